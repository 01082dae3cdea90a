/**
 * Has the run draw what is in view, and keeps what was drawn: a step that was seen before is shown
 * in the frame of the wish.
 */

import { outlinedAgainst, shownTwin } from "./compare/state.js";
import { shownStep } from "./store.js";

/** @typedef {import("./types.js").State} State */
/** @typedef {import("./types.js").SectionPicture} SectionPicture */
/** @typedef {import("./types.js").Told} Told */
/** @typedef {{ width: number, height: number }} Size */

/** Sections kept of each step. */
const MOST_KEPT = 6;

export class Pictures {
  #run;
  /**
   * By what was told of a step: another run of it tells anew.
   * @type {WeakMap<Told, Map<string, SectionPicture>>}
   */
  #sections = new WeakMap();
  #lastStep = 0;
  /** Which call for a section is the latest, and which one's picture is shown. */
  #turn = 0;
  #shown = 0;

  /** @param {import("./run.js").Run} run */
  constructor(run) {
    this.#run = run;
  }

  /**
   * What a run should draw without being asked again: the section in view.
   * @param {State} state
   * @param {Size} size
   * @returns {import("./engine.js").Wish | null}
   */
  wish(state, size) {
    return size.width < 40 ? null : { step: state.step, view: viewOf(state, size, state.step) };
  }

  /**
   * Keeps a section that came along with what was told of its step.
   * @param {State} state before it is told
   * @param {Size} size
   * @param {Told} told
   * @param {SectionPicture} picture
   */
  keep(state, size, told, picture) {
    const after = { ...state, told: [...state.told.slice(0, told.step), told] };
    this.#sections.set(told, new Map([[keyOf(after, size, told.step), picture]]));
  }

  /**
   * Gives the section in view, at once if it is known; `take` is told whether it is the wanted one
   * or, while that is being drawn, nothing.
   * @param {State} state
   * @param {Size} size
   * @param {(picture: SectionPicture, step: number) => void} take
   */
  section(state, size, take) {
    const step = shownStep(state);
    const told = state.told[step];
    if (!told || size.width < 40) return;
    const known = this.#sections.get(told)?.get(keyOf(state, size, step));
    this.#turn += 1;
    const turn = this.#turn;
    // A picture that was asked for comes after a later one that was known already.
    const show = (/** @type {SectionPicture} */ picture) => {
      if (turn < this.#shown) return;
      this.#shown = turn;
      take(picture, step);
    };
    if (known) show(known);
    else this.#ask("section", state, size, step, show);
    this.#ahead(state, size, step);
  }

  /**
   * Gives the section of the pinned run beside the one in view, at the same ranges.
   * @param {State} state
   * @param {Size} size
   * @param {(picture: SectionPicture) => void} take
   */
  pinned(state, size, take) {
    const step = shownStep(state);
    const twin = shownTwin(state, step);
    if (twin === null || size.width < 40) return;
    const told = state.told[step];
    const key = `pinned ${keyOf(state, size, step)}`;
    const known = told && this.#sections.get(told)?.get(key);
    if (known) take(known);
    else this.#ask("pinnedSection", state, size, step, take);
  }

  /**
   * @param {"section" | "ahead" | "pinnedSection"} kind
   * @param {State} state
   * @param {Size} size
   * @param {number} step
   * @param {(picture: SectionPicture) => void} take
   */
  #ask(kind, state, size, step, take) {
    const told = state.told[step];
    if (!told) return;
    const pinned = kind === "pinnedSection";
    const own = keyOf(state, size, step);
    const key = pinned ? `pinned ${own}` : own;
    const shown = pinned ? shownTwin(state, step) : step;
    this.#run.ask(kind, [shown, viewOf(state, size, step, pinned)], (value) => {
      if (value === null) return;
      const picture = /** @type {SectionPicture} */ (value);
      const kept = this.#sections.get(told) ?? new Map();
      kept.set(key, picture);
      for (const old of [...kept.keys()].slice(0, -MOST_KEPT)) kept.delete(old);
      this.#sections.set(told, kept);
      take(picture);
    });
  }

  /**
   * Draws the next steps in the direction of travel before they are wished for.
   * @param {State} state
   * @param {Size} size
   * @param {number} step
   */
  #ahead(state, size, step) {
    if (!state.summary) return;
    const by = step < this.#lastStep ? -1 : 1;
    this.#lastStep = step;
    /** @param {number} count */
    const next = (count) => {
      if (count > 3) return;
      const other = step + by * count;
      const told = state.told[other];
      if (!told) return;
      if (this.#sections.get(told)?.has(keyOf(state, size, other))) next(count + 1);
      else this.#ask("ahead", state, size, other, () => next(count + 1));
    };
    next(1);
  }
}

/**
 * The part of the section that is in view, as the kernel is asked for it.
 * @param {State} state
 * @param {Size} size
 * @param {number} [step] of the flow in view
 * @param {boolean} [pinned] whether it is the pinned run that is asked
 */
export function viewOf(state, size, step = shownStep(state), pinned = false) {
  const { x, z, doping, changes, both } = state.view;
  const against = outlinedAgainst(state, step);
  return {
    ...size,
    doping,
    both,
    changes: changes && against !== null && !(pinned && against === undefined),
    ...(typeof against === "number" ? { against: pinned ? step : against } : {}),
    ...(x ? { x_nm: x.map((um) => 1000 * um) } : {}),
    ...(z ? { z_nm: [...z] } : {}),
  };
}

/**
 * Pinned runs by their number.
 * @type {WeakMap<import("./types.js").FlowDoc, number>}
 */
const numbers = new WeakMap();
let pins = 0;

/**
 * What of the pinned run a picture depends on.
 * @param {State} state
 * @param {number} step
 */
function pinKey(state, step) {
  const { pin, view } = state;
  if (!pin || (view.since === "step" && !view.both)) return "";
  if (!numbers.has(pin.doc)) numbers.set(pin.doc, (pins += 1));
  const twin = shownTwin(state, step);
  // With the frame of both a picture changes while the pinned run goes on.
  return `${numbers.get(pin.doc)} ${twin} ${view.both && !view.z ? pin.told.length : ""}`;
}

/**
 * What a section's picture depends on beside its step.
 * @param {State} state
 * @param {Size} size
 * @param {number} step
 */
function keyOf(state, { width, height }, step) {
  const { view, told } = state;
  // Without heights of its own a picture shows all that the run reaches.
  const reach = view.z
    ? ""
    : `${Math.max(...told.map((t) => t.topNm))} ${Math.max(...told.map((t) => t.deepNm))}`;
  const pinned = pinKey(state, step);
  return `${JSON.stringify(view)} ${width} ${height} ${reach} ${pinned}`;
}
