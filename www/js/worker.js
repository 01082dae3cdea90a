/**
 * Runs requests off the page. One message in, one out:
 * `{ kind: "start", module }` gives `{ kind: "ready" }`;
 * `{ kind: "run", generation, request, narrow }` gives `done`, `refused` or `broken`; a run of
 * single ions gives `progress` before, and `{ kind: "halt" }` ends it early with what there is.
 */

import init, { IonRun, bench, lastPanic } from "../pkg/barewafer_lab.js";
import { fly, isIonRun } from "./ion-run.js";

/** @typedef {import("./types.js").Answer} Answer */
/**
 * @typedef {{ kind: "start", module: WebAssembly.Module } | { kind: "halt" }
 *   | { kind: "run" } & import("./kernel.js").Job} Order
 * @typedef {{ kind: "ready" }
 *   | { kind: "progress", generation: number, answer: Answer,
 *     flown: import("./types.js").Flown }
 *   | { kind: "done", generation: number, answer: Answer, ms: number }
 *   | { kind: "refused", generation: number, error: import("./types.js").RequestError }
 *   | { kind: "broken", details: string }} Reply
 */

/** Whether the run of single ions is to end. */
let halted = false;

/** @param {Reply} reply */
function send(reply) {
  self.postMessage(reply);
}

/** @param {unknown} thrown */
function isRefusal(thrown) {
  return typeof thrown === "object" && thrown !== null && "code" in thrown && "allowed" in thrown;
}

/** What the kernel noted before it broke; nothing if even that cannot be asked any more. */
function panicText() {
  try {
    return lastPanic() ?? "";
  } catch {
    return "";
  }
}

self.addEventListener("message", async (/** @type {MessageEvent<Order>} */ event) => {
  const order = event.data;
  try {
    if (order.kind === "start") {
      await init({ module_or_path: order.module });
      send({ kind: "ready" });
    } else if (order.kind === "halt") {
      halted = true;
    } else {
      const { generation, request, narrow } = order;
      const start = performance.now();
      halted = false;
      const answer = isIonRun(request)
        ? await fly(new IonRun(request, narrow), {
            look: (looked, flown) =>
              send({ kind: "progress", generation, answer: looked, flown }),
            isStopped: () => halted,
          })
        : bench(request, narrow);
      const ms = performance.now() - start;
      send({ kind: "done", generation, answer, ms });
    }
  } catch (thrown) {
    if (order.kind === "run" && isRefusal(thrown)) {
      const error = /** @type {import("./types.js").RequestError} */ (thrown);
      send({ kind: "refused", generation: order.generation, error });
    } else {
      const told = thrown instanceof Error ? `${thrown.name}: ${thrown.message}` : String(thrown);
      const details = [told, panicText()].filter(Boolean).join("\n");
      send({ kind: "broken", details });
    }
  }
});
