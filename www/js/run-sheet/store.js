/** The state of the Run sheet and the one pure function that changes it. */

import { WHOLE, middleOf } from "./address.js";

/** @typedef {import("./types.js").State} State */
/** @typedef {import("./types.js").FlowDoc} FlowDoc */
/**
 * @typedef {{ kind: "open", doc: FlowDoc, base: string, step: number, plumb: number | null,
 *     depth: number | null, view: import("./types.js").View, hidden: readonly string[],
 *     notices: string[], work: boolean, show?: import("./types.js").Show }
 *   | { kind: "edit", doc: FlowDoc, step: number, joins: boolean }
 *   | { kind: "undo" } | { kind: "redo" }
 *   | { kind: "loaded", facts: import("./types.js").Facts }
 *   | { kind: "told", told: import("./types.js").Told }
 *   | { kind: "done", summary: import("./types.js").Summary }
 *   | { kind: "refused", step: number, error: import("./types.js").RequestError }
 *   | { kind: "broken", details: string }
 *   | { kind: "go", step: number } | { kind: "view", view: Partial<import("./types.js").View> }
 *   | { kind: "plumb", x: number } | { kind: "depth", depth: number | null }
 *   | { kind: "hide", hidden: readonly string[] }
 *   | { kind: "play", playing: boolean } | { kind: "show", show: import("./types.js").Show }
 *   | { kind: "unread", path: string, message: string }
 *   | { kind: "notices", notices: string[] }
 *   | { kind: "pin", pin: import("./types.js").Pin | null }
 *   | { kind: "pinned", part: Partial<import("./types.js").Pin> }} Action
 */

/** Changes that can be undone. */
const MOST_UNDOS = 200;

/** @type {State} */
export const EMPTY = {
  doc: null,
  base: "",
  facts: null,
  refusal: null,
  broken: "",
  step: 0,
  told: [],
  summary: null,
  past: [],
  future: [],
  view: WHOLE,
  plumb: 0,
  depth: null,
  hidden: [],
  playing: false,
  unread: {},
  notices: [],
  work: false,
  opened: 0,
  show: "",
  pin: null,
};

/**
 * @param {State} state
 * @param {Action} action
 * @returns {State}
 */
export function reduce(state, action) {
  switch (action.kind) {
    case "open": {
      const { doc, base, step, depth, view, hidden, notices, work } = action;
      // Without a place of its own the plumb line hangs in the middle, once the width is known.
      const plumb = action.plumb ?? NaN;
      const opened = state.opened + 1;
      const show = action.show ?? state.show;
      const place = { step, plumb, depth, view, hidden, show };
      const { pin } = state;
      return { ...EMPTY, doc, base, ...place, notices, work, opened, pin };
    }
    case "edit": {
      if (!state.doc) return state;
      // A slider on its way is one change.
      const past = action.joins ? state.past : [...state.past, state.doc].slice(-MOST_UNDOS);
      const step = clamp(action.step, action.doc.steps.length);
      return { ...changed(state, action.doc), step, past, future: [], work: true };
    }
    case "undo": {
      const doc = state.past.at(-1);
      if (!doc || !state.doc) return state;
      const future = [state.doc, ...state.future];
      return { ...changed(state, doc), past: state.past.slice(0, -1), future, work: true };
    }
    case "redo": {
      const [doc, ...future] = state.future;
      if (!doc || !state.doc) return state;
      return { ...changed(state, doc), past: [...state.past, state.doc], future, work: true };
    }
    case "loaded": {
      const { facts } = action;
      const middle = middleOf(facts.widthUm);
      const plumb = Number.isNaN(state.plumb) ? middle : Math.min(state.plumb, facts.widthUm);
      const told = state.told.slice(0, facts.kept);
      return { ...state, facts, plumb: Math.max(0, plumb), told, refusal: null, summary: null };
    }
    case "told": {
      const told = [...state.told.slice(0, action.told.step), action.told];
      return { ...state, told };
    }
    case "done":
      return { ...state, summary: action.summary };
    case "refused":
      return { ...state, refusal: { step: action.step, error: action.error }, playing: false };
    case "broken":
      return { ...state, broken: action.details, playing: false };
    case "go": {
      const step = clamp(action.step, state.doc?.steps.length ?? 0);
      return step === state.step ? state : { ...state, step, unread: {} };
    }
    case "view":
      return { ...state, view: rounded({ ...state.view, ...action.view }) };
    case "plumb": {
      const width = state.facts?.widthUm ?? 0;
      return { ...state, plumb: toSix(Math.min(Math.max(action.x, 0), width)) };
    }
    case "depth":
      return { ...state, depth: action.depth };
    case "hide":
      return { ...state, hidden: action.hidden };
    case "show":
      return { ...state, show: action.show, playing: false };
    case "play":
      return { ...state, playing: action.playing };
    case "unread":
      return { ...state, unread: { ...state.unread, [action.path]: action.message } };
    case "notices":
      return { ...state, notices: action.notices };
    case "pin": {
      const since = action.pin ? "pinned" : "step";
      const both = action.pin !== null && state.view.both;
      return { ...state, pin: action.pin, view: { ...state.view, since, both } };
    }
    case "pinned":
      return state.pin ? { ...state, pin: { ...state.pin, ...action.part } } : state;
  }
}

/**
 * @param {State} state
 * @param {FlowDoc} doc
 * @returns {State}
 */
function changed(state, doc) {
  const step = clamp(state.step, doc.steps.length);
  return { ...state, doc, step, summary: null, unread: {}, broken: "" };
}

/**
 * @param {number} step
 * @param {number} length
 */
function clamp(step, length) {
  return Math.max(0, Math.min(step, length - 1));
}

/**
 * A view that a link can tell to the last digit.
 * @param {import("./types.js").View} view
 * @returns {import("./types.js").View}
 */
function rounded(view) {
  /** @param {import("./types.js").Range | null} range */
  const short = (range) => range && /** @type {const} */ ([toSix(range[0]), toSix(range[1])]);
  return { ...view, x: short(view.x), z: short(view.z) };
}

/** @param {number} value */
function toSix(value) {
  return Number(value.toPrecision(6));
}

/**
 * The step whose wafer is shown: the one in view, or the last one that has run before it; -1 if
 * none has.
 * @param {State} state
 */
export function shownStep(state) {
  return Math.min(state.step, state.told.length - 1);
}

/** Holds the state, hands every new one to the listeners. */
export class Store {
  #state = EMPTY;
  /** @type {((state: State, before: State) => void)[]} */
  #listeners = [];

  get state() {
    return this.#state;
  }

  /** @param {(state: State, before: State) => void} listener */
  subscribe(listener) {
    this.#listeners.push(listener);
  }

  /** @param {Action} action */
  dispatch(action) {
    const before = this.#state;
    this.#state = Object.freeze(reduce(before, action));
    if (this.#state === before) return;
    for (const listener of this.#listeners) listener(this.#state, before);
  }
}
