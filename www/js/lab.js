/**
 * The page's own instances of the compiled kernel: they draw, read the caution table and mark
 * exercises. Physics runs in the worker's instances.
 *
 * The kernel comes in families of operations, each a module of its own that is loaded when a bench
 * first needs it. One family is in use at a time, that of the bench in view, and every question
 * goes to it. The only module beside the worker that imports the generated glue.
 */

/** @typedef {import("./types.js").RequestError} RequestError */
/** @typedef {{ theme: "light" | "dark", width: number, height: number,
 *   pixelRatio: number }} DrawOptions */
/**
 * @typedef {object} Family a loaded family
 * @property {string} name
 * @property {WebAssembly.Module} module compiled, to be sent to the worker
 * @property {typeof import("../pkg/glue.js")} glue
 * @property {import("./types.js").OperationSchema[]} schema the forms of its operations
 */

/**
 * Families that are loaded or on their way.
 * @type {Map<string, Promise<Family>>}
 */
const families = new Map();
/** @type {Family | null} */
let inUse = null;
let failures = 0;

/**
 * Loads a family once; after a failure the next call tries again.
 * @param {string} name
 * @param {(module: WebAssembly.Module) => void} [compiled] called as soon as there is a module
 * @returns {Promise<Family>}
 */
export function loadFamily(name, compiled) {
  const known = families.get(name);
  if (known) return known;
  const family = load(name, compiled);
  families.set(name, family);
  family.catch(() => {
    failures += 1;
    families.delete(name);
  });
  return family;
}

/**
 * From now on every question goes to this family.
 * @param {Family} family
 */
export function useFamily(family) {
  inUse = family;
}

/** The family of the bench in view. */
export function familyInUse() {
  if (!inUse) throw new Error("no part of the kernel is loaded");
  return inUse;
}

/**
 * @param {string} name
 * @param {(module: WebAssembly.Module) => void} [compiled]
 * @returns {Promise<Family>}
 */
async function load(name, compiled) {
  const compiling = compile(name);
  if (compiled) compiling.then(compiled, () => undefined);
  const [module, glue] = await Promise.all([compiling, importGlue(name)]);
  await glue.default({ module_or_path: module });
  return { name, module, glue, schema: glue.schema() };
}

/** @param {string} name */
async function compile(name) {
  const url = new URL(`../pkg/${name}_bg.wasm`, import.meta.url);
  const response = await fetch(url).catch((thrown) => {
    throw new Error(`${url.pathname} could not be loaded: ${detailsOf(thrown)}`);
  });
  if (!response.ok) {
    throw new Error(`${url.pathname} could not be loaded: the server said ${response.status}`);
  }
  const type = response.headers.get("content-type") ?? "";
  if (type.startsWith("application/wasm")) return WebAssembly.compileStreaming(response);
  return WebAssembly.compile(await response.arrayBuffer());
}

/**
 * @param {string} name
 * @returns {Promise<typeof import("../pkg/glue.js")>}
 */
function importGlue(name) {
  // Some browsers remember that a script could not be loaded and do not ask for it again.
  const again = failures > 0 ? `?again=${failures}` : "";
  return import(`../pkg/${name}.js${again}`);
}

/** @returns {string} */
export function kernelVersion() {
  return familyInUse().glue.kernelVersion();
}

/**
 * The forms of the operations of the family in use.
 * @returns {readonly import("./types.js").OperationSchema[]}
 */
export function schema() {
  return familyInUse().schema;
}

/**
 * Runs a request on the page itself: only when there is no worker.
 * @param {Family} family
 * @param {import("./types.js").Json} request
 * @param {boolean} narrow whether the picture is for a narrow frame
 * @returns {import("./types.js").Answer}
 */
export function bench({ glue }, request, narrow) {
  return glue.bench(request, narrow);
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {import("./types.js").Chart} chart
 * @param {import("./types.js").Chart | null} ghost
 * @param {DrawOptions} options
 */
export function drawChart(canvas, chart, ghost, options) {
  familyInUse().glue.drawChart(canvas, chart, ghost, options);
}

/**
 * @param {import("./types.js").Chart} chart
 * @param {import("./types.js").Chart | null} ghost
 * @param {DrawOptions} options
 * @returns {string}
 */
export function chartSvg(chart, ghost, options) {
  return familyInUse().glue.chartSvg(chart, ghost, options);
}

/**
 * @param {import("./types.js").Json} request
 * @param {"light" | "dark"} theme
 * @returns {string}
 */
export function pictureSvg(request, theme) {
  return familyInUse().glue.pictureSvg(request, theme);
}

/**
 * The cautions of a request, worst first: also of one that is refused.
 * @param {import("./types.js").Json} request
 */
export function cautions(request) {
  return familyInUse().glue.cautions(request);
}

/**
 * The known mistakes of a request's settings, those that stop first.
 * @param {import("./types.js").Json} request
 */
export function findings(request) {
  return familyInUse().glue.findings?.(request) ?? [];
}

/**
 * The cautions of rows of the hazard table.
 * @param {string[]} ids
 */
export function cautionsOf(ids) {
  return familyInUse().glue.cautionsOf(ids);
}

/**
 * @param {string} id
 * @param {string} code
 * @param {string} student
 * @param {number} set
 * @returns {import("./types.js").Exercise}
 */
export function exercise(id, code, student, set) {
  return familyInUse().glue.exercise(id, code, student, set);
}

/**
 * @param {string} id
 * @param {string} code
 * @param {string} student
 * @param {number} set
 * @param {string} text
 * @param {number} tryNumber
 * @param {boolean} confirmed whether an implausible answer was given twice
 * @returns {import("./types.js").Verdict}
 */
export function checkAnswer(id, code, student, set, text, tryNumber, confirmed) {
  const { glue } = familyInUse();
  return glue.checkAnswer(id, code, student, set, text, tryNumber, confirmed);
}

/**
 * Whether something thrown is the kernel's refusal of a request; anything else is a breakdown.
 * @param {unknown} thrown
 * @returns {thrown is RequestError}
 */
export function isRefusal(thrown) {
  return (
    typeof thrown === "object" &&
    thrown !== null &&
    "code" in thrown &&
    "message" in thrown &&
    "allowed" in thrown
  );
}

/**
 * What is known about a breakdown, to be copied into a report.
 * @param {unknown} thrown
 */
export function detailsOf(thrown) {
  return thrown instanceof Error ? `${thrown.name}: ${thrown.message}` : String(thrown);
}
