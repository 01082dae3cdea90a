/** Work in progress in this browser, and files. */

import { recall, remember } from "../storage.js";

/** @typedef {import("./types.js").FlowDoc} FlowDoc */

const KEY = "run-sheet";
/** A flow file is at most this long, as the kernel has it. */
const LONGEST_FILE = 1_000_000;

/**
 * @param {import("./types.js").State} state
 */
export function keepWork({ doc, base, step, plumb, depth, view, hidden }) {
  if (doc) remember(KEY, JSON.stringify({ doc, base, step, plumb, depth, view, hidden }));
}

/**
 * The work that was kept, or null.
 * @returns {{ doc: FlowDoc, base: string, step: number, plumb: number, depth: number | null,
 *   view: import("./types.js").View, hidden: readonly string[] } | null}
 */
export function keptWork() {
  try {
    const kept = JSON.parse(recall(KEY) || "null");
    const whole = isFlowDoc(kept?.doc) && typeof kept.view === "object";
    return whole ? { hidden: [], ...kept } : null;
  } catch {
    return null;
  }
}

export function forgetWork() {
  remember(KEY, "");
}

/**
 * Whether something has the bones of a flow file; the kernel judges the rest.
 * @param {unknown} value
 * @returns {value is FlowDoc}
 */
export function isFlowDoc(value) {
  if (typeof value !== "object" || value === null || !("steps" in value)) return false;
  const { steps } = value;
  return (
    Array.isArray(steps) &&
    steps.length > 0 &&
    steps.every((step) => typeof step?.step === "object" && step.step !== null)
  );
}

/**
 * Reads a flow file that a person has chosen.
 * @param {File} file
 * @returns {Promise<FlowDoc>}
 */
export async function readFlow(file) {
  if (file.size > LONGEST_FILE) {
    throw new Error(`${file.name} has ${file.size} bytes; a flow file has at most ${LONGEST_FILE}`);
  }
  const text = await file.text();
  /** @type {unknown} */
  let value;
  try {
    value = JSON.parse(text);
  } catch (thrown) {
    const reason = thrown instanceof Error ? thrown.message : String(thrown);
    throw new Error(`${file.name} is no JSON file: ${reason}`);
  }
  if (!isFlowDoc(value)) throw new Error(`${file.name} is no flow file: it has no list of steps`);
  return value;
}

/**
 * The text of a flow's file: a line for each step's object, as the shipped ones have it.
 * @param {FlowDoc} doc
 */
export function flowText(doc) {
  return `${JSON.stringify(doc, null, 1)}\n`;
}
