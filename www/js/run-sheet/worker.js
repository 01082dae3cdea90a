/**
 * Runs flows off the page: `{ kind: "start", module }` first, then the orders of `engine.js`.
 */

/** The part of the kernel that runs flows. */
const FAMILY = "wafer";

/** Both are on their way while the page compiles the module, and at once what the engine imports. */
/** @type {Promise<[typeof import("./engine.js"), import("./engine.js").Glue]>} */
const loading = Promise.all([import("./engine.js"), import(`../../pkg/${FAMILY}.js`)]);
const along = Promise.all([import("../paths.js"), import("./compare/background.js")]);
// A start tells what went wrong.
for (const some of [loading, along]) some.catch(() => undefined);

/** @type {Promise<(order: import("./engine.js").Order) => void> | null} */
let started = null;

/** @param {WebAssembly.Module} module */
async function start(module) {
  const [{ engine }, glue] = await loading;
  await glue.default({ module_or_path: module });
  return engine(glue, (reply) => self.postMessage(reply));
}

self.addEventListener("message", async ({ data }) => {
  if (data.kind === "start") {
    started = start(data.module);
    started.catch((thrown) => self.postMessage({ kind: "broken", details: String(thrown) }));
    return;
  }
  const carryOut = await started?.catch(() => null);
  carryOut?.(data);
});

export {};
