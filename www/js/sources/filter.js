/** What is shown, in the fragment of the address: `#v=1&bench=furnace&kind=read&result=off`. */

import { BENCHES } from "../benches.js";

/** @typedef {import("./types.js").Filter} Filter */

/** How something is known, and what that means. */
export const KINDS = {
  read: "read in the source or a copy of it",
  memory: "recalled, to be looked up before it is relied on",
  "common practice": "a rule of the trade",
  derived: "follows from other values by hand",
  computed: "computed by a program that shares no code with the kernel",
  "model choice": "chosen by us, so that a model is complete",
};

export const RESULTS = {
  met: "met",
  known_deviation: "known deviations",
  off: "off",
};

/** @type {Filter} */
export const ALL = { bench: "", kind: "", result: "" };

/**
 * Reads a fragment; a word that is none of ours counts as not said.
 * @param {string} fragment
 * @returns {Filter}
 */
export function readFilter(fragment) {
  const query = new URLSearchParams(fragment.replace(/^#/, "").slice(0, 200));
  /**
   * @param {string} name
   * @param {string[]} allowed
   */
  const word = (name, allowed) => {
    const given = query.get(name) ?? "";
    return allowed.includes(given) ? given : "";
  };
  return {
    bench: word(
      "bench",
      BENCHES.map((bench) => bench.id),
    ),
    kind: word("kind", Object.keys(KINDS)),
    result: word("result", Object.keys(RESULTS)),
  };
}

/** @param {Filter} filter */
export function writeFilter(filter) {
  const query = new URLSearchParams({ v: "1" });
  for (const [name, word] of Object.entries(filter)) if (word !== "") query.set(name, word);
  return `#${query.toString()}`;
}

/**
 * Whether a row is shown. What is not computed yet has no result.
 * @param {Filter} filter
 * @param {{ bench: string, kind: string }} row
 * @param {string} verdict
 */
export function isShown(filter, row, verdict) {
  if (filter.bench !== "" && row.bench !== filter.bench) return false;
  if (filter.kind !== "" && row.kind !== filter.kind) return false;
  if (filter.result === "") return true;
  const result = verdict === "deviation_gone" || verdict === "error" ? "off" : verdict;
  return result === filter.result;
}
