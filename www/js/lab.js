/**
 * The page's own instance of the compiled kernel: it draws, reads the caution table and marks
 * exercises. Physics runs in the worker's instance. The only module beside the worker that imports
 * the generated glue.
 */

import init, * as glue from "../pkg/barewafer_lab.js";

/** @typedef {import("./types.js").RequestError} RequestError */
/** @typedef {{ theme: "light" | "dark", width: number, height: number,
 *   pixelRatio: number }} DrawOptions */

const WASM = new URL("../pkg/barewafer_lab_bg.wasm", import.meta.url);

/**
 * Compiles the kernel once; the module can be sent to the worker.
 * @returns {Promise<WebAssembly.Module>}
 */
async function compile() {
  const response = await fetch(WASM);
  if (!response.ok) {
    throw new Error(`${WASM.pathname} could not be loaded: the server said ${response.status}`);
  }
  const type = response.headers.get("content-type") ?? "";
  if (type.startsWith("application/wasm")) return WebAssembly.compileStreaming(response);
  return WebAssembly.compile(await response.arrayBuffer());
}

/** Loads the kernel into the page and gives the compiled module. */
export async function loadLab() {
  const module = await compile();
  await init({ module_or_path: module });
  return module;
}

/** @returns {string} */
export function kernelVersion() {
  return glue.kernelVersion();
}

/** @returns {import("./types.js").OperationSchema[]} */
export function schema() {
  return glue.schema();
}

/**
 * Runs a request on the page itself: only when there is no worker.
 * @param {import("./types.js").Json} request
 * @param {boolean} narrow whether the picture is for a narrow frame
 * @returns {import("./types.js").Answer}
 */
export function bench(request, narrow) {
  return glue.bench(request, narrow);
}

/**
 * Prepares a run of single ions on the page itself: only when there is no worker.
 * @param {import("./types.js").Json} request
 * @param {boolean} narrow whether the picture is for a narrow frame
 */
export function ionRun(request, narrow) {
  return new glue.IonRun(request, narrow);
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {import("./types.js").Chart} chart
 * @param {import("./types.js").Chart | null} ghost
 * @param {DrawOptions} options
 */
export function drawChart(canvas, chart, ghost, options) {
  glue.drawChart(canvas, chart, ghost, options);
}

/**
 * @param {import("./types.js").Chart} chart
 * @param {import("./types.js").Chart | null} ghost
 * @param {DrawOptions} options
 * @returns {string}
 */
export function chartSvg(chart, ghost, options) {
  return glue.chartSvg(chart, ghost, options);
}

/**
 * @param {import("./types.js").Json} request
 * @param {"light" | "dark"} theme
 * @returns {string}
 */
export function pictureSvg(request, theme) {
  return glue.pictureSvg(request, theme);
}

/**
 * @param {string[]} ids
 * @returns {import("./types.js").HazardRow[]}
 */
export function hazardRows(ids) {
  return glue.hazardRows(ids);
}

/**
 * @param {string} id
 * @param {string} code
 * @param {string} student
 * @param {number} set
 * @returns {import("./types.js").Exercise}
 */
export function exercise(id, code, student, set) {
  return glue.exercise(id, code, student, set);
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
