/**
 * Runs requests off the page.
 * `{ kind: "start", family, module }` makes an instance of a family of operations, unanswered;
 * `{ kind: "run", family, generation, request, narrow }` gives `done`, `refused` or `broken`. A run
 * of single ions gives `progress` before, and `{ kind: "halt", generation }` ends it early with
 * the ions that have flown.
 */

import { isWatched, prepared, watch } from "./watched-run.js";

/** @typedef {typeof import("../pkg/glue.js")} Glue */
/** @typedef {import("./types.js").Answer} Answer */
/**
 * @typedef {{ kind: "start", family: string, module: WebAssembly.Module }
 *   | { kind: "run", family: string, generation: number, request: import("./types.js").Json,
 *     narrow: boolean }
 *   | { kind: "halt", generation: number }} Order
 * @typedef {{ kind: "progress", generation: number, answer: Answer,
 *     flown: import("./types.js").Flown }
 *   | { kind: "done", generation: number, answer: Answer, ms: number }
 *   | { kind: "refused", generation: number, error: import("./types.js").RequestError }
 *   | { kind: "broken", details: string }} Reply
 */

/** @type {Map<string, Promise<Glue>>} */
const families = new Map();
/** The latest run of single ions that is to end. */
let halted = 0;

/** @param {Reply} reply */
function send(reply) {
  self.postMessage(reply);
}

/** @param {unknown} thrown */
function isRefusal(thrown) {
  return typeof thrown === "object" && thrown !== null && "code" in thrown && "allowed" in thrown;
}

/**
 * What the kernel noted before it broke; nothing if even that cannot be asked any more.
 * @param {Glue | undefined} glue
 */
function panicText(glue) {
  try {
    return glue?.lastPanic() ?? "";
  } catch {
    return "";
  }
}

/**
 * @param {string} family
 * @param {WebAssembly.Module} module
 */
async function start(family, module) {
  /** @type {Glue} */
  const glue = await import(`../pkg/${family}.js`);
  await glue.default({ module_or_path: module });
  return glue;
}

self.addEventListener("message", async (/** @type {MessageEvent<Order>} */ event) => {
  const order = event.data;
  if (order.kind === "start") {
    const family = start(order.family, order.module);
    families.set(order.family, family);
    // The run that follows tells what went wrong.
    family.catch(() => undefined);
    return;
  }
  if (order.kind === "halt") {
    halted = order.generation;
    return;
  }
  /** @type {Glue | undefined} */
  let glue;
  try {
    glue = await families.get(order.family);
    if (!glue) throw new Error(`the part ${order.family} of the kernel was not started`);
    const { generation, request, narrow } = order;
    const start = performance.now();
    const answer = isWatched(request)
      ? await watch(prepared(glue, request, narrow), {
          look: (looked, flown) => send({ kind: "progress", generation, answer: looked, flown }),
          isStopped: () => halted === generation,
        })
      : glue.bench(request, narrow);
    const ms = performance.now() - start;
    send({ kind: "done", generation, answer, ms });
  } catch (thrown) {
    if (isRefusal(thrown)) {
      const error = /** @type {import("./types.js").RequestError} */ (thrown);
      send({ kind: "refused", generation: order.generation, error });
    } else {
      const told = thrown instanceof Error ? `${thrown.name}: ${thrown.message}` : String(thrown);
      const details = [told, panicText(glue)].filter(Boolean).join("\n");
      send({ kind: "broken", details });
    }
  }
});

export {};
