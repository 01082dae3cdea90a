/**
 * Runs that can be watched and stopped: of single ions, some fly, the page looks, some more fly; of
 * a process window, row by row. The kernel's part is the same whatever the pace; the last look has
 * the bits of a run that nobody watched.
 */

/** @typedef {import("./types.js").Json} Json */
/** @typedef {import("./types.js").Answer} Answer */
/** @typedef {import("./types.js").Flown} Flown */
/** @typedef {typeof import("../pkg/glue.js")} Glue */
/** @typedef {InstanceType<Glue["IonRun"]> | InstanceType<Glue["WindowRun"]>} Watched */

/** The first ions or points, few, so that they show at once. */
const FIRST = { ions: 20, points: 3 };
/** How long a run goes on before a word from outside is heard, in ms. */
const CHUNK_MS = 40;
/** Time between two looks, in ms. */
const LOOK_MS = 100;

/** @param {Json} request */
function isWindow(request) {
  return request["operation"] === "process_window";
}

/**
 * Whether a request is a run of single ions or a process window.
 * @param {Json} request
 */
export function isWatched(request) {
  const ions = request["operation"] === "implantation" && request["model"] === "monte_carlo";
  return ions || isWindow(request);
}

/**
 * Prepares the run of a request.
 * @param {Glue} glue
 * @param {Json} request
 * @param {boolean} narrow whether the picture is for a narrow frame
 * @returns {{ run: Watched, first: number }}
 */
export function prepared(glue, request, narrow) {
  return isWindow(request)
    ? { run: new glue.WindowRun(request, narrow), first: FIRST.points }
    : { run: new glue.IonRun(request, narrow), first: FIRST.ions };
}

/**
 * Lets a prepared run go to its end and gives the last answer; frees the run.
 * @param {{ run: Watched, first: number }} prepared
 * @param {{ look: (answer: Answer, flown: Flown) => void, isStopped: () => boolean }} watcher
 * @returns {Promise<Answer>}
 */
export async function watch({ run, first }, { look, isStopped }) {
  try {
    const total = run.total;
    let done = 0;
    let chunk = first;
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
