/** The page's state and the one pure function that changes it. Knows nothing of the document. */

import { BENCHES, benchOf } from "./benches.js";
import { FORMS, formOf } from "./forms.js";

/** @typedef {import("./types.js").State} State */
/** @typedef {import("./types.js").Run} Run */
/** @typedef {import("./types.js").Settings} Settings */
/** @typedef {import("./types.js").Value} Value */
/** @typedef {import("./types.js").ExerciseState} ExerciseState */

/**
 * @typedef {{ kind: "go", bench: string, operation: string }} Go
 * @typedef {{ kind: "place", bench: string, operation: string, settings: Settings,
 *   notices: string[] }} PlaceAction
 * @typedef {{ kind: "set", path: string, value: Value }} SetAction
 * @typedef {{ kind: "unread", path: string, message: string }} Unread
 * @typedef {{ kind: "preset", settings: Settings }} PresetAction
 * @typedef {{ kind: "load", operation: string, settings: Settings }} LoadAction
 * @typedef {{ kind: "computing" }} Computing
 * @typedef {{ kind: "answered", operation: string,
 *   answer: import("./types.js").Answer }} Answered
 * @typedef {{ kind: "progress", operation: string, answer: import("./types.js").Answer,
 *   flown: import("./types.js").Flown }} Progress
 * @typedef {{ kind: "refused", operation: string,
 *   error: import("./types.js").RequestError }} Refused
 * @typedef {{ kind: "broken", details: string }} Broken
 * @typedef {{ kind: "chart", id: string }} ChartAction
 * @typedef {{ kind: "pin", name: string }} PinAction
 * @typedef {{ kind: "unpin" }} Unpin
 * @typedef {{ kind: "exercise", exercise: ExerciseState | null }} ExerciseAction
 * @typedef {{ kind: "notices", notices: string[] }} Notices
 * @typedef {Go | PlaceAction | SetAction | Unread | PresetAction | LoadAction | Computing
 *   | Answered | Progress | Refused | Broken | ChartAction | PinAction | Unpin | ExerciseAction
 *   | Notices} Action
 */

/** @type {Run} */
const IDLE = { status: "idle", answer: null, error: null, details: "" };

/**
 * The state of a first visit.
 * @returns {State}
 */
export function firstState() {
  const bench = BENCHES[0]?.id ?? "";
  return {
    bench,
    operation: benchOf(bench).operations[0] ?? "",
    settings: Object.fromEntries(Object.values(FORMS).map((f) => [f.operation, f.start])),
    unread: {},
    run: IDLE,
    runs: {},
    pins: {},
    chart: {},
    exercises: {},
    notices: [],
  };
}

/**
 * The settings of the operation in view.
 * @param {State} state
 * @returns {Settings}
 */
export function settingsOf(state) {
  return state.settings[state.operation] ?? formOf(state.operation).start;
}

/**
 * The exercise that is open on the bench in view, or null.
 * @param {State} state
 */
export function exerciseOf(state) {
  return state.exercises[state.bench] ?? null;
}

/**
 * Whether the bench must not show what the open exercise asks for.
 * @param {State} state
 */
export function isHidden(state) {
  const exercise = exerciseOf(state);
  return exercise !== null && !exercise.settled;
}

/**
 * @param {State} state
 * @param {Action} action
 * @returns {State}
 */
export function reduce(state, action) {
  switch (action.kind) {
    case "go":
      return arrive(state, action.bench, action.operation);
    case "place": {
      const settings = { ...state.settings, [action.operation]: action.settings };
      const there = arrive({ ...state, settings }, action.bench, action.operation);
      return { ...there, notices: action.notices };
    }
    case "set": {
      const now = { ...settingsOf(state), [action.path]: action.value };
      return { ...withSettings(state, state.operation, now), unread: without(state, action.path) };
    }
    case "unread":
      return { ...state, unread: { ...state.unread, [action.path]: action.message } };
    case "preset": {
      const now = { ...formOf(state.operation).start, ...action.settings };
      return { ...withSettings(state, state.operation, now), unread: {} };
    }
    case "load": {
      const loaded = withSettings(state, action.operation, action.settings);
      return { ...arrive(loaded, state.bench, action.operation), unread: {} };
    }
    case "computing":
      return { ...state, run: { ...state.run, status: "computing" } };
    case "answered": {
      if (action.operation !== state.operation) return state;
      return keep(state, { status: "done", answer: action.answer, error: null, details: "" });
    }
    case "progress": {
      if (action.operation !== state.operation) return state;
      const { answer, flown } = action;
      return keep(state, { status: "computing", answer, error: null, details: "", flown });
    }
    case "refused": {
      if (action.operation !== state.operation) return state;
      const { flown: _landed, ...run } = state.run;
      return keep(state, { ...run, status: "refused", error: action.error });
    }
    case "broken": {
      const { flown: _landed, ...run } = state.run;
      return { ...state, run: { ...run, status: "broken", details: action.details } };
    }
    case "chart":
      return { ...state, chart: { ...state.chart, [state.operation]: action.id } };
    case "pin": {
      const answer = state.run.answer;
      if (!answer) return state;
      const pin = { charts: answer.charts, results: answer.report.results, name: action.name };
      return { ...state, pins: { ...state.pins, [state.operation]: pin } };
    }
    case "unpin": {
      const { [state.operation]: _gone, ...pins } = state.pins;
      return { ...state, pins };
    }
    case "exercise": {
      const { [state.bench]: _gone, ...others } = state.exercises;
      const open = action.exercise;
      return { ...state, exercises: open ? { ...others, [state.bench]: open } : others };
    }
    case "notices":
      return { ...state, notices: action.notices };
  }
}

/**
 * @param {State} state
 * @param {string} bench
 * @param {string} operation
 * @returns {State}
 */
function arrive(state, bench, operation) {
  const run = state.runs[operation] ?? IDLE;
  return { ...state, bench, operation, run, unread: {}, notices: [] };
}

/**
 * @param {State} state
 * @param {string} operation
 * @param {Settings} settings
 * @returns {State}
 */
function withSettings(state, operation, settings) {
  return { ...state, settings: { ...state.settings, [operation]: settings } };
}

/**
 * @param {State} state
 * @param {string} path
 */
function without(state, path) {
  const { [path]: _gone, ...unread } = state.unread;
  return unread;
}

/**
 * @param {State} state
 * @param {Run} run
 * @returns {State}
 */
function keep(state, run) {
  return { ...state, run, runs: { ...state.runs, [state.operation]: run } };
}

/** Holds the state, hands every new one to the listeners. */
export class Store {
  /** @type {State} */
  #state;
  /** @type {((state: State, before: State) => void)[]} */
  #listeners = [];

  /** @param {State} state */
  constructor(state) {
    this.#state = state;
  }

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
    for (const listener of this.#listeners) listener(this.#state, before);
  }
}
