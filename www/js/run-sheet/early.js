/**
 * Begins what needs no page while the page's scripts are on their way: the worker, the compilation
 * of the kernel, the flow that the link names and its first step. A script of its own with few
 * imports, because it runs as soon as these are there.
 */

import { loadFamily } from "../lab.js";
import { startWorker } from "../own-worker.js";
import { linked } from "./shipped.js";

/** The part of the kernel that runs flows. */
export const FAMILY = "wafer";
/** What is told of a worker whose script does not come. */
export const UNLOADED = "the worker could not be loaded";

/**
 * @typedef {object} Early a worker that was started before there was a page to ask it
 * @property {Worker} worker
 * @property {WebAssembly.Module | null} given what it was given to start with
 * @property {string} broken why it does not work, if that is known
 * @property {boolean} taken whether the page gives the orders now
 */

/** @type {Early | null} */
let early = begin();

function begin() {
  let worker;
  try {
    worker = flowWorker();
  } catch {
    // A frame of opaque origin has no workers; the kernel is loaded all the same.
    loadFamily(FAMILY).catch(() => undefined);
    return null;
  }
  /** @type {Early} */
  const begun = { worker, given: null, broken: "", taken: false };
  worker.addEventListener("message", ({ data }) => {
    if (data.kind === "broken") begun.broken ||= data.details;
  });
  worker.addEventListener("error", (event) => {
    event.preventDefault();
    begun.broken ||= event.message || UNLOADED;
  });
  // Whoever asks again for what did not come is told.
  loadFamily(FAMILY, (module) => give(begun, module)).catch(() => undefined);
  return begun;
}

/**
 * @param {Early} begun
 * @param {WebAssembly.Module} module
 */
async function give(begun, module) {
  if (begun.taken) return;
  begun.given = module;
  begun.worker.postMessage({ kind: "start", module });
  const doc = await linked(location.hash)?.catch(() => null);
  // Once the page asks, nothing may come in between.
  if (doc && !begun.taken) {
    begun.worker.postMessage({ kind: "prepare", text: JSON.stringify(doc) });
  }
}

/** Starts a worker that runs flows; throws where workers are refused. */
export function flowWorker() {
  return startWorker(new URL("./worker.js", import.meta.url));
}

/** The worker that was started early: the first one who asks gets it. */
export function takeEarly() {
  const begun = early;
  if (begun) begun.taken = true;
  early = null;
  return begun;
}
