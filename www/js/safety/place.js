/**
 * What is shown, in the fragment of the address: `#v=1&view=rules`, `#v=1&hazard=HF49`,
 * `#v=1&sheet=full-cmos` for the safety sheet of a flow that comes with the lab.
 */

import { NAMES } from "../run-sheet/shipped.js";

/** @typedef {import("./types.js").Place} Place */

/** The parts of the place, in their order. */
export const VIEWS = {
  hazards: "Hazards",
  emergency: "Emergency card",
  rules: "Rules",
  flow: "What a flow uses",
  questions: "Questions",
  words: "Words and codes",
};

/** The sheet of the flow that the Run sheet keeps in this browser. */
export const MINE = "mine";

/** Longest text that is searched for. */
const LONGEST = 60;

/**
 * Reads a fragment; what is none of ours counts as not said.
 * @param {string} fragment
 * @param {readonly string[]} ids of the hazards
 * @returns {Place}
 */
export function readPlace(fragment, ids) {
  const query = new URLSearchParams(fragment.replace(/^#/, "").slice(0, 300));
  const hazard = query.get("hazard") ?? "";
  const view = query.get("view") ?? "";
  const asked = query.get("sheet") ?? "";
  const sheet = asked === MINE || NAMES.includes(asked) ? asked : "";
  return {
    view: sheet !== "" ? "flow" : Object.keys(VIEWS).includes(view) ? view : "hazards",
    sheet,
    hazard: ids.includes(hazard) ? hazard : "",
    search: (query.get("search") ?? "").slice(0, LONGEST),
  };
}

/** @param {Partial<Place>} place */
export function writePlace({ view = "hazards", hazard = "", search = "", sheet = "" }) {
  const query = new URLSearchParams({ v: "1" });
  if (sheet !== "") query.set("sheet", sheet);
  else if (view !== "hazards") query.set("view", view);
  if (hazard !== "") query.set("hazard", hazard);
  if (search !== "") query.set("search", search);
  return `#${query.toString()}`;
}
