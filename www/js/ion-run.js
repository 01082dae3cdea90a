/**
 * A run of single ions that can be watched and stopped: some ions fly, the page looks, some more
 * fly. The kernel's part is the same whatever the pace; the last look has the bits of a run that
 * nobody watched.
 */

/** @typedef {import("./types.js").Json} Json */
/** @typedef {import("./types.js").Answer} Answer */
/** @typedef {import("./types.js").Flown} Flown */
/** @typedef {import("../pkg/glue.js").IonRun} IonRun */

/** The first ions, few, so that their tracks show at once. */
const FIRST_IONS = 20;
/** How long ions fly before a word from outside is heard, in ms. */
const CHUNK_MS = 40;
/** Time between two looks, in ms. */
const LOOK_MS = 100;

/**
 * Whether a request is a run of single ions.
 * @param {Json} request
 */
export function isIonRun(request) {
  return request["operation"] === "implantation" && request["model"] === "monte_carlo";
}

/**
 * Lets all ions of a prepared run fly and gives the last answer; ends the run.
 * @param {IonRun} run
 * @param {{ look: (answer: Answer, flown: Flown) => void, isStopped: () => boolean }} watcher
 * @returns {Promise<Answer>}
 */
export async function fly(run, { look, isStopped }) {
  try {
    const total = run.total;
    let done = 0;
    let chunk = FIRST_IONS;
    let looked = -Infinity;
    for (;;) {
      const start = performance.now();
      const before = done;
      done = run.advance(chunk);
      const now = performance.now();
      if (done >= total) return run.answer();
      const perMs = (done - before) / Math.max(now - start, 0.1);
      chunk = Math.min(Math.max(Math.round(CHUNK_MS * perMs), 1), 20_000);
      if (now - looked >= LOOK_MS) {
        look(run.answer(), { done, total });
        looked = performance.now();
      }
      await breath();
      if (isStopped()) return run.answer();
    }
  } finally {
    run.free();
  }
}

/** Lets messages in. */
function breath() {
  return new Promise((resolve) => setTimeout(resolve));
}
