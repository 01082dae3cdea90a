/** The pinned run as a part of the state, and what of it stands beside a step. */

import { twinOf } from "./twins.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").Pin} Pin */

/**
 * A run that has just been pinned.
 * @param {import("../types.js").FlowDoc} doc
 * @param {string} base the shipped flow that it began with; empty for one of a person's own
 * @param {string} words what it is called
 * @returns {Pin}
 */
export function newPin(doc, base, words) {
  return {
    doc,
    base,
    words,
    facts: null,
    told: [],
    summary: null,
    refusal: null,
  };
}

/**
 * What answers to a step in the pinned run; null without one.
 * @param {State} state
 * @param {number} step of the run in view
 */
export function pairOf({ pin, doc }, step) {
  return pin && doc ? twinOf(pin.doc, doc, step) : null;
}

/**
 * The step of the pinned run that is shown beside a step and has run; null if there is none.
 * @param {State} state
 * @param {number} step
 */
export function shownTwin(state, step) {
  const pair = pairOf(state, step);
  return pair && state.pin?.told[pair.step] ? pair.step : null;
}

/**
 * What a section's outlines are drawn against: a step of the pinned run, null while that has not
 * run, undefined for the step before.
 * @param {State} state
 * @param {number} step
 */
export function outlinedAgainst(state, step) {
  if (!state.pin || state.view.since !== "pinned") return undefined;
  return shownTwin(state, step);
}
