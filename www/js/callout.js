/** A caution in words and signs, the same on a bench, in the Safety place and in print. */

import { h } from "./dom.js";
import { signsOf } from "./pictograms.js";

/** @typedef {import("./types.js").Callout} Callout */
/** @typedef {import("./types.js").Finding} Finding */

/**
 * How loud a caution is: the class of its card and word. Dangers without label are plain.
 * @param {Callout} row
 */
function loudness({ signal_word: word }) {
  return word === "Caution" ? "plain" : word.toLowerCase();
}

/** @param {Callout} row */
export function signal(row) {
  return h("strong", { class: `signal ${loudness(row)}` }, row.signal_word);
}

/** @param {"stop" | "check"} word */
export function grade(word) {
  return h("strong", { class: `signal ${word === "stop" ? "danger" : "warning"}` }, word);
}

/**
 * Known mistakes, open: what, why, and what to do instead.
 * @param {readonly Finding[]} found
 * @param {boolean} [names] whether the steps are named
 */
export function mistakes(found, names = true) {
  const line = (/** @type {Finding} */ one) =>
    h(
      "li",
      { "data-rule": one.rule, class: one.grade },
      grade(one.grade),
      " ",
      h("strong", {}, names ? `${one.title} (${one.steps.join(", ")}).` : `${one.title}.`),
      ` ${one.reason} ${one.remedy}`,
    );
  return h("ul", { class: "findings" }, ...found.map(line));
}

/** @param {string} rule */
function neverLine(rule) {
  return h("li", {}, h("strong", {}, "Never "), rule.replace(/^Never /, ""));
}

/**
 * The whole caution, open.
 * @param {Callout} row
 * @param {readonly Callout[]} [above] cautions that stand above it: what is the same is not repeated
 * @param {"h3" | "h4"} [level]
 */
export function callout(row, above = [], level = "h4") {
  const twin = above.find((other) => other.wear === row.wear);
  /** @type {[string, string][]} */
  const lines = [
    ["Can happen", row.can_happen],
    ["Wear", twin ? `the same as for ${twin.short_name}` : row.wear],
    ["Work so", row.work_so],
    ["Keep apart from", row.keep_apart],
  ];
  return h(
    "section",
    { class: `caution ${loudness(row)}`, "data-hazard": row.id },
    h(level, {}, signal(row), h("span", {}, row.name)),
    signsOf(row),
    h("p", { class: "first-aid" }, h("strong", {}, "First aid: "), row.first_aid),
    h(
      "dl",
      {},
      ...lines
        .filter(([, text]) => text !== "")
        .map(([name, text]) => h("div", {}, h("dt", {}, `${name}:`), " ", h("dd", {}, text))),
    ),
    ...(row.never.length > 0 ? [h("ul", { class: "never" }, ...row.never.map(neverLine))] : []),
    ...(row.note === "" ? [] : [h("p", { class: "soft" }, capital(row.note))]),
  );
}

/** @param {string} text */
function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
