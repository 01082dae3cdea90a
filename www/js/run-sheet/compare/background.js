/** Runs the pinned flow in the worker whenever the flow in view needs no step. */

/** @typedef {import("../engine.js").Reply} Reply */
/** @typedef {InstanceType<import("../engine.js").Glue["FlowRun"]>} FlowRun */

/**
 * @param {FlowRun} run
 * @param {{ send: (reply: Reply) => void, breathe: () => Promise<unknown>,
 *   busy: () => boolean, fail: (thrown: unknown) => import("../types.js").RequestError | null
 *   }} engine `fail` gives the refusal, or null after it has reported a breakdown
 */
export function background(run, { send, breathe, busy, fail }) {
  let generation = 0;
  let working = false;
  let ended = true;
  /**
   * A flow that waits until the one in view has run: what the two have in common then runs once.
   * @type {string | null}
   */
  let waiting = null;

  /**
   * @param {number} step
   * @param {unknown} thrown
   */
  function refuse(step, thrown) {
    ended = true;
    const error = fail(thrown);
    if (error) send({ kind: "pinned", generation, part: { refusal: { step, error } } });
  }

  /** Steps on until all have run or the flow in view needs the engine. */
  async function goOn() {
    if (working) return;
    working = true;
    let step = -1;
    try {
      while (!ended && !busy()) {
        if (waiting !== null) {
          const text = waiting;
          waiting = null;
          const { facts, told } = run.pin(text);
          step = told.length - 1;
          send({ kind: "pinned", generation, part: { facts, told } });
        }
        if (run.pinnedDone) {
          ended = true;
          send({
            kind: "pinned",
            generation,
            part: { summary: run.pinnedSummary() },
          });
          break;
        }
        await breathe();
        if (ended || busy()) break;
        const told = run.stepPinned();
        step = told.step;
        send({ kind: "pinned-step", generation, told });
      }
    } catch (thrown) {
      refuse(step < 0 ? -1 : step + 1, thrown);
    }
    working = false;
  }

  return {
    goOn,
    /**
     * @param {number} number
     * @param {string | null} text null: no run is pinned any more
     */
    pin(number, text) {
      generation = number;
      waiting = text;
      ended = text === null;
      if (ended) run.unpin();
      else void goOn();
    },
  };
}
