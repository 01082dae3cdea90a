/** What is said of a layout while it is changed. */

import { plain, sentence } from "../../format.js";
import { figuresOf, sectionOf } from "./drawing.js";

/** @typedef {import("../types.js").FlowDoc} FlowDoc */
/** @typedef {import("./drawing.js").Point} Point */

/** @param {FlowDoc} doc */
export function lineWords(doc) {
  const { from, to } = sectionOf(doc);
  const end = (/** @type {Point} */ [x, y]) => `x ${plain(x)}, y ${plain(y)}`;
  return `Section line from ${end(from)} to ${end(to)} µm.`;
}

/**
 * A figure by its number and its corners; nothing if there is none.
 * @param {FlowDoc} doc
 * @param {string} level
 * @param {number} figure
 */
export function figureWords(doc, level, figure) {
  const one = figuresOf(doc, level)[figure];
  if (!one) return "";
  const [x1, y1, x2, y2] = one.box.map(plain);
  return `${level}, figure ${figure + 1}: ${x1}, ${y1} to ${x2}, ${y2} µm.`;
}

/**
 * What a change does to the design rules, with a space before it; nothing if it does nothing.
 * @param {readonly string[]} before the rules that were broken
 * @param {readonly string[]} after
 */
export function ruleWords(before, after) {
  const known = new Set(before);
  const fresh = after.find((message) => !known.has(message));
  if (fresh !== undefined) return ` A design rule is broken: ${sentence(fresh)}`;
  return after.length < known.size ? " Fewer design rules are broken." : "";
}

/**
 * @param {string} label of the field
 * @param {string} text that was typed
 */
export function noNumber(label, text) {
  const shown = text.trim().slice(0, 40);
  const what = shown === "" ? "an empty field" : `“${shown}”`;
  return `${label}: ${what} is not a number. Give a length in µm, such as 10.5.`;
}

/**
 * The kernel's refusal of a typed number: the kernel names the place in the file, the page the
 * field.
 * @param {string} label of the field
 * @param {import("../types.js").RequestError} error
 */
export function refusalWords(label, { message, hint }) {
  return `${label}: ${message.replace(/^[\w.[\]]+:? /, "")}. ${sentence(hint)}`;
}
