/**
 * The view of a flow in the fragment of the address:
 * `#v=1&flow=full-cmos&step=well-drive&x=35&from=10&to=40`. A flow that was changed has its
 * differences from the shipped one in `edit`, as JSON. A link is a stranger's text: it is cut, read
 * strictly, and every value that is refused is named.
 */

import { editable, parseNumber } from "../format.js";
import { readPin, withPin } from "./compare/link.js";
import { difference } from "./diff.js";

/** @typedef {import("./types.js").State} State */
/** @typedef {import("./types.js").FlowDoc} FlowDoc */
/**
 * @typedef {{ flow: string, patch: import("./diff.js").Patch | null, step: string,
 *   plumb: number | null, depth: number | null, view: import("./types.js").View,
 *   hidden: string[], show: import("./types.js").Show,
 *   pin: import("./compare/link.js").PinLink | null, notices: string[] }} Address
 */

/** Links longer than this break in mail and chat programs. */
export const LONGEST = 2000;

/** @type {readonly import("./types.js").Show[]} */
const SHOWS = ["", "handout", "slides"];

/** What is shown of a section at first. */
/** @type {import("./types.js").View} */
export const WHOLE = {
  x: null,
  z: null,
  doping: true,
  changes: true,
  since: "step",
  both: false,
};

/**
 * Writes the fragment; null if the changes are too many for a link.
 * @param {State} state
 * @param {FlowDoc | null} base the shipped flow that the flow began with
 * @param {FlowDoc | null} [pinned] the one that the pinned run began with
 * @returns {string | null}
 */
export function writeAddress(state, base, pinned = null) {
  const { doc, facts, step, view, plumb, depth, hidden } = state;
  if (!doc || !base) return null;
  const query = new URLSearchParams({ v: "1", flow: state.base });
  const id = doc.steps[step]?.id;
  if (id !== undefined) query.set("step", id);
  if (facts && plumb !== middleOf(facts.widthUm)) query.set("x", short(plumb));
  if (view.x) {
    query.set("from", short(view.x[0]));
    query.set("to", short(view.x[1]));
  }
  if (view.z) {
    query.set("low", short(view.z[0]));
    query.set("high", short(view.z[1]));
  }
  if (depth !== null) query.set("depth", short(depth));
  if (!view.doping) query.set("doping", "off");
  if (!view.changes) query.set("changes", "off");
  if (hidden.length > 0) query.set("hide", hidden.join(","));
  if (state.show !== "") query.set("show", state.show);
  if (view.both) query.set("both", "on");
  if (state.pin && view.since === "step") query.set("since", "step");
  const patch = difference(base, doc);
  if (patch) query.set("edit", JSON.stringify(patch));
  const text = `#${query.toString()}`;
  return text.length > LONGEST ? null : withPin(text, state, pinned, LONGEST);
}

/**
 * Where the plumb line hangs at first, in µm.
 * @param {number} width
 */
export function middleOf(width) {
  return Number((width / 2).toPrecision(4));
}

/** @param {number} value */
function short(value) {
  return editable(Number(value.toPrecision(6)));
}

/**
 * @param {string} fragment
 * @param {readonly string[]} flows the shipped ones
 * @returns {Address}
 */
export function readAddress(fragment, flows) {
  /** @type {string[]} */
  const notices = [];
  const text = fragment.replace(/^#/, "");
  let query = new URLSearchParams(text);
  if (text.length > LONGEST) {
    notices.push(`The link is longer than ${LONGEST} characters and was not read.`);
    query = new URLSearchParams();
  } else if (text !== "" && query.get("v") !== "1") {
    const version = shown(query.get("v") ?? "(none)");
    notices.push(`The link's version ${version} is not 1; it was not read.`);
    query = new URLSearchParams();
  }
  query.delete("v");
  const take = (/** @type {string} */ key) => {
    const value = query.get(key);
    query.delete(key);
    return value;
  };
  let flow = take("flow") ?? "";
  if (flow !== "" && !flows.includes(flow)) {
    notices.push(`flow: ${shown(flow)} was refused; allowed: ${flows.join(", ")}.`);
    flow = "";
  }
  const number = (/** @type {string} */ key) => {
    const given = take(key);
    if (given === null) return null;
    const value = parseNumber(given);
    if (value === null) notices.push(`${key}: ${shown(given)} was refused; allowed: a number.`);
    return value;
  };
  const off = (/** @type {string} */ key) => {
    const given = take(key);
    if (given !== null && given !== "off") {
      notices.push(`${key}: ${shown(given)} was refused; allowed: off.`);
    }
    return given === "off";
  };
  /** @type {(low: number | null, high: number | null) => [number, number] | null} */
  const range = (low, high) => (low !== null && high !== null && low < high ? [low, high] : null);
  const step = take("step") ?? "";
  const plumb = number("x");
  /** @type {import("./types.js").View} */
  const view = {
    ...WHOLE,
    x: range(number("from"), number("to")),
    z: range(number("low"), number("high")),
    doping: !off("doping"),
    changes: !off("changes"),
  };
  const depth = number("depth");
  const hidden = (take("hide") ?? "").split(",").filter((level) => level !== "");
  const wanted = take("show") ?? "";
  const show = SHOWS.find((word) => word === wanted) ?? "";
  if (show !== wanted) {
    notices.push(`show: ${shown(wanted)} was refused; allowed: handout, slides.`);
  }
  const patch = readPatch(take("edit"), notices);
  const pin = readPin(take, flows, notices);
  const both = take("both");
  const since = take("since");
  if (pin) {
    view.both = both === "on";
    view.since = since === "step" ? "step" : "pinned";
  }
  for (const key of query.keys()) notices.push(`${shown(key)}: there is no such field.`);
  return { flow, patch, step, plumb, depth, view, hidden, show, pin, notices };
}

/**
 * @param {string | null} text
 * @param {string[]} notices
 * @param {string} [field]
 * @returns {import("./diff.js").Patch | null}
 */
export function readPatch(text, notices, field = "edit") {
  if (text === null) return null;
  try {
    const patch = JSON.parse(text);
    if (typeof patch === "object" && patch !== null && !Array.isArray(patch)) return patch;
  } catch {
    // Named below.
  }
  notices.push(`${field}: the changes of the flow cannot be read; the shipped flow is shown.`);
  return null;
}

/**
 * A stranger's text, short and on one line.
 * @param {string} text
 */
export function shown(text) {
  const clean = text.replace(/[\p{C}\s]+/gu, " ").trim();
  return clean.length > 40 ? `${clean.slice(0, 39)}…` : clean === "" ? "(empty)" : clean;
}
