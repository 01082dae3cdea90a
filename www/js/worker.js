/**
 * Runs requests off the page. One message in, one out:
 * `{ kind: "start", module }` gives `{ kind: "ready" }`;
 * `{ kind: "run", generation, request, narrow }` gives `done`, `refused` or `broken`.
 */

import init, { bench, lastPanic } from "../pkg/barewafer_lab.js";

/**
 * @typedef {{ kind: "start", module: WebAssembly.Module }
 *   | { kind: "run" } & import("./kernel.js").Job} Order
 * @typedef {{ kind: "ready" }
 *   | { kind: "done", generation: number, answer: import("./types.js").Answer, ms: number }
 *   | { kind: "refused", generation: number, error: import("./types.js").RequestError }
 *   | { kind: "broken", details: string }} Reply
 */

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
    } else {
      const start = performance.now();
      const answer = bench(order.request, order.narrow);
      const ms = performance.now() - start;
      send({ kind: "done", generation: order.generation, answer, ms });
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
