/**
 * Has the run draw what is in view, and keeps what was drawn: a step that was seen before is shown
 * in the frame of the wish.
 */

import { shownStep } from "./store.js";

/** @typedef {import("./types.js").State} State */
/** @typedef {import("./types.js").SectionPicture} SectionPicture */
/** @typedef {import("./types.js").Told} Told */
/** @typedef {{ width: number, height: number }} Size */

/** Sections kept of each step. */
const MOST_KEPT = 4;

export class Pictures {
  #run;
  /**
   * By what was told of a step: another run of it tells anew.
   * @type {WeakMap<Told, Map<string, SectionPicture>>}
   */
  #sections = new WeakMap();
  #lastStep = 0;

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
    return size.width < 40 ? null : { step: state.step, view: viewOf(state, size) };
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
    this.#sections.set(told, new Map([[keyOf(after, size), picture]]));
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
    const known = this.#sections.get(told)?.get(keyOf(state, size));
    if (known) take(known, step);
    else this.#ask("section", state, size, step, (picture) => take(picture, step));
    this.#ahead(state, size, step);
  }

  /**
   * @param {"section" | "ahead"} kind
   * @param {State} state
   * @param {Size} size
   * @param {number} step
   * @param {(picture: SectionPicture) => void} take
   */
  #ask(kind, state, size, step, take) {
    const told = state.told[step];
    if (!told) return;
    const key = keyOf(state, size);
    this.#run.ask(kind, [step, viewOf(state, size)], (value) => {
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
    const key = keyOf(state, size);
    /** @param {number} count */
    const next = (count) => {
      if (count > 3) return;
      const other = step + by * count;
      const told = state.told[other];
      if (!told) return;
      if (this.#sections.get(told)?.has(key)) next(count + 1);
      else this.#ask("ahead", state, size, other, () => next(count + 1));
    };
    next(1);
  }
}

/**
 * The part of the section that is in view, as the kernel is asked for it.
 * @param {State} state
 * @param {Size} size
 */
export function viewOf({ view: { x, z, doping, changes } }, size) {
  return {
    ...size,
    doping,
    changes,
    ...(x ? { x_nm: x.map((um) => 1000 * um) } : {}),
    ...(z ? { z_nm: [...z] } : {}),
  };
}

/**
 * What a section's picture depends on beside its step.
 * @param {State} state
 * @param {Size} size
 */
function keyOf({ view, told }, { width, height }) {
  // Without heights of its own a picture shows all that the run reaches.
  const reach = view.z
    ? ""
    : `${Math.max(...told.map((t) => t.topNm))} ${Math.max(...told.map((t) => t.deepNm))}`;
  return `${JSON.stringify(view)} ${width} ${height} ${reach}`;
}
