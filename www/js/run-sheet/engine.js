/**
 * Carries out orders on a run of a flow: in the worker, or on the page where workers are refused.
 * One step runs at a time; between two steps it listens, so that a changed flow ends the run of
 * the one before, and questions are answered while the run goes on.
 */

import { packed } from "../paths.js";
import { background } from "./compare/background.js";

/** @typedef {import("./types.js").Told} Told */
/** @typedef {import("./types.js").SectionPicture} SectionPicture */
/** @typedef {typeof import("../../pkg/glue.js")} Glue */
/**
 * @typedef {{ section: [step: number, view: object], ahead: [step: number, view: object],
 *   slide: [step: number, view: object], page: [step: number, view: object],
 *   caption: [step: number], plan: [step: number, width: number, x: number],
 *   at: [step: number, x: number], before: [step: number, x: number],
 *   across: [step: number, depth: number],
 *   sentences: [step: number], earlier: [step: number],
 *   compared: [step: number, other: number], pinnedSection: [step: number, view: object],
 *   pinnedAt: [step: number, x: number], pinnedAcross: [step: number, depth: number],
 *   comparedWithPinned: [step: number, other: number] }} Questions
 * @typedef {keyof Questions} Kind
 * @typedef {{ step: number, view: object }} Wish the step in view, and how its section is seen
 * @typedef {{ kind: "flow", generation: number, text: string, wish?: Wish | null,
 *     has?: number }
 *   | { kind: "prepare", text: string } | { kind: "shown" }
 *   | { kind: "pin", generation: number, text: string | null }
 *   | { kind: "ask", id: number, question: Kind, values: unknown[] }} Order
 * @typedef {{ kind: "loaded", generation: number, facts: import("./types.js").Facts }
 *   | { kind: "step", generation: number, told: Told, ms: number,
 *     picture: SectionPicture | null }
 *   | { kind: "done", generation: number, summary: import("./types.js").Summary }
 *   | { kind: "refused", generation: number, step: number,
 *     error: import("./types.js").RequestError }
 *   | { kind: "pinned", generation: number, part: Partial<import("./types.js").Pin> }
 *   | { kind: "pinned-step", generation: number,
 *     told: { step: number, report: import("./types.js").StepReport } }
 *   | { kind: "answer", id: number, value: unknown }
 *   | { kind: "unanswered", id: number, error: import("./types.js").RequestError }
 *   | { kind: "broken", details: string }} Reply
 */

/** @param {unknown} thrown */
function isRefusal(thrown) {
  return typeof thrown === "object" && thrown !== null && "code" in thrown && "allowed" in thrown;
}

/** Lets messages in that have come meanwhile. */
function breathe() {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      resolve(undefined);
    };
    port2.postMessage(null);
  });
}

/** A page that is not in view never says that it has painted. */
const LONGEST_HOLD_MS = 300;

/**
 * @param {Glue} glue
 * @param {(reply: Reply) => void} send
 * @returns {(order: Order) => void}
 */
export function engine(glue, send) {
  const run = new glue.FlowRun();
  let latest = 0;
  /** What was told of the steps that the run has kept. */
  /** @type {Told[]} */
  const known = [];

  /** @param {unknown} thrown */
  function breakDown(thrown) {
    const told = thrown instanceof Error ? `${thrown.name}: ${thrown.message}` : String(thrown);
    let panic = "";
    try {
      panic = glue.lastPanic() ?? "";
    } catch {
      // Even that cannot be asked any more.
    }
    send({ kind: "broken", details: [told, panic].filter(Boolean).join("\n") });
  }

  /**
   * @param {number} step
   * @param {object} view
   * @returns {SectionPicture}
   */
  function section(step, view) {
    const picture = run.section(step, view);
    return { ...picture, scene: packed(picture.scene) };
  }

  /** @type {{ [K in Kind]: (...values: Questions[K]) => unknown }} */
  const answers = {
    section,
    ahead: section,
    slide: section,
    page: section,
    caption: (step) => run.sentences(step),
    plan: (step, width, x) => run.layout(step, width, x),
    at: (step, x) => run.at(step, x),
    before: (step, x) => run.at(step, x),
    across: (step, depth) => run.across(step, depth),
    sentences: (step) => run.sentences(step),
    earlier: (step) => run.comparedWithEarlier(step),
    compared: (step, other) => run.compared(step, other),
    pinnedSection: (step, view) => run.pinnedSection(step, view),
    pinnedAt: (step, x) => run.pinnedAt(step, x),
    pinnedAcross: (step, depth) => run.pinnedAcross(step, depth),
    comparedWithPinned: (step, other) => run.comparedWithPinned(step, other),
  };

  let letGo = () => undefined;

  /** Leaves the machine to the page until it has painted the first picture of a flow. */
  function hold() {
    return new Promise((resolve) => {
      const timer = setTimeout(resolve, LONGEST_HOLD_MS, undefined);
      letGo = () => {
        clearTimeout(timer);
        resolve(undefined);
      };
    });
  }

  // Flows that are being followed: the pinned one waits for them.
  let following = 0;
  const pinned = background(run, {
    send,
    breathe,
    busy: () => following > 0,
    fail: (thrown) => {
      if (isRefusal(thrown)) return /** @type {import("./types.js").RequestError} */ (thrown);
      breakDown(thrown);
      return null;
    },
  });

  /**
   * A flow that is loaded, its first step done, before it is asked for.
   * @type {{ text: string, facts: import("./types.js").Facts } | null}
   */
  let prepared = null;

  /**
   * Loads a flow, or takes the prepared one.
   * @param {string} text
   * @returns {import("./types.js").Facts}
   */
  function load(text) {
    const ready = prepared?.text === text ? prepared.facts : null;
    prepared = null;
    return ready ? { ...ready, kept: known.length } : run.load(text);
  }

  /** Runs the next step. */
  function next() {
    /** @type {Told} */
    const told = run.step();
    return { ...told, thumbnail: packed(told.thumbnail) };
  }

  /**
   * @param {number} generation
   * @param {string} text
   * @param {Wish | null} wish
   * @param {number} has of how many steps the page still knows
   */
  async function follow(generation, text, wish, has) {
    latest = generation;
    following += 1;
    let step = -1;
    try {
      const facts = load(text);
      send({ kind: "loaded", generation, facts });
      step = facts.kept;
      const first = step;
      // A flow that the page knows nothing of has no picture yet.
      let unseen = has === 0 && wish !== null;
      known.length = Math.min(known.length, step);
      // A flow that is opened again has been forgotten by the page, not by the run.
      for (const told of known.slice(has)) {
        const comes = wish && told.step === Math.min(wish.step, known.length - 1);
        const picture = comes ? section(told.step, wish.view) : null;
        send({ kind: "step", generation, told, ms: 0, picture });
        if (picture && unseen) await hold();
        if (picture) unseen = false;
      }
      while (!run.done) {
        await breathe();
        if (latest !== generation) break;
        const start = performance.now();
        const told = next();
        const ms = performance.now() - start;
        known[step] = told;
        // Whoever asks only now waits for the next step to end: the first picture and the wished
        // one come along.
        const comes = wish && (step === wish.step || (step === first && step < wish.step));
        const picture = comes ? section(step, wish.view) : null;
        send({ kind: "step", generation, told, ms, picture });
        step += 1;
        if (picture && unseen) await hold();
        if (picture) unseen = false;
      }
      if (latest === generation) await breathe();
      if (latest === generation) send({ kind: "done", generation, summary: run.summary() });
    } catch (thrown) {
      if (!isRefusal(thrown)) breakDown(thrown);
      else {
        const error = /** @type {import("./types.js").RequestError} */ (thrown);
        send({ kind: "refused", generation, step, error });
      }
    }
    following -= 1;
    void pinned.goOn();
  }

  /**
   * Has a flow that will be asked for loaded, and its first step done.
   * @param {string} text
   */
  function prepare(text) {
    try {
      const facts = load(text);
      if (!run.done) known.push(next());
      prepared = { text, facts };
    } catch (thrown) {
      // A refusal is told to whoever asks.
      if (!isRefusal(thrown)) breakDown(thrown);
    }
  }

  return (order) => {
    if (order.kind === "prepare") {
      prepare(order.text);
      return;
    }
    if (order.kind === "shown") {
      letGo();
      return;
    }
    if (order.kind === "flow") {
      void follow(order.generation, order.text, order.wish ?? null, order.has ?? 0);
      return;
    }
    if (order.kind === "pin") {
      pinned.pin(order.generation, order.text);
      return;
    }
    const { id, question } = order;
    try {
      const answer = /** @type {(...values: unknown[]) => unknown} */ (answers[question]);
      send({ kind: "answer", id, value: answer(...order.values) });
    } catch (thrown) {
      if (!isRefusal(thrown)) breakDown(thrown);
      else {
        const error = /** @type {import("./types.js").RequestError} */ (thrown);
        send({ kind: "unanswered", id, error });
      }
    }
  };
}
