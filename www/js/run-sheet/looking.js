/** What is in view of a run: drawn at once, and asked for in words once somebody stays. */

import { shownTwin } from "./compare/state.js";
import { shownStep } from "./store.js";

/** @typedef {import("./types.js").State} State */

/** Who stays at a step for so long wants to know all of it. */
const STAY_MS = 90;
const UNLOADED = {
  place: null,
  across: null,
  sentences: /** @type {string[]} */ ([]),
  changed: null,
  earlier: null,
  before: null,
  against: null,
  pinnedPlace: null,
  pinnedAcross: null,
};

/**
 * @param {{ store: import("./store.js").Store, run: import("./run.js").Run,
 *   view: import("./view.js").View, pictures: import("./pictures.js").Pictures,
 *   shown: () => void, later: () => import("./later.js").Later | null }} page
 *   shown: called when a section is shown; later: the rest of the page, once it is loaded
 */
export function looking({ store, run, view, pictures, shown, later }) {
  /** @type {import("./view.js").Answers} */
  let answers = { ...UNLOADED };
  let stayTimer = 0;
  let frame = 0;

  /**
   * What is in view, drawn and asked anew where it changed.
   * @param {State} state
   * @param {State} before
   */
  function look(state, before) {
    const step = shownStep(state);
    const told = state.told[step];
    if (step < 0 || !told) return;
    pictures.section(state, view.section.size, (picture, of) => {
      view.section.show(picture, of);
      performance.mark("section-shown");
      shown();
    });
    if (state.pin && state.view.both) {
      pictures.pinned(state, view.section.size, (picture) =>
        later()?.details.compare.pinned.show(picture),
      );
    }
    const twin = shownTwin(state, step);
    const pinned = twin !== null && shownTwin(before, shownStep(before)) === null;
    if (state.pin?.doc !== before.pin?.doc || !state.pin) {
      answers = {
        ...answers,
        against: null,
        pinnedPlace: null,
        pinnedAcross: null,
      };
    }
    const other = told !== before.told[shownStep(before)] || pinned;
    if (other || state.facts !== before.facts) stay();
    else if (state.plumb !== before.plumb || state.depth !== before.depth) lookAt(state, step);
  }

  /** Asks for the rest of a step once somebody stays at it. */
  function stay() {
    clearTimeout(stayTimer);
    stayTimer = window.setTimeout(() => {
      const { state } = store;
      const step = shownStep(state);
      if (step < 0) return;
      lookAt(state, step);
      ask("sentences", [step], (value) => ({ sentences: value ?? [] }));
      if (step > 0) ask("compared", [step, step - 1], (value) => ({ changed: value }));
      else answers = { ...answers, changed: null };
      ask("earlier", [step], (value) => ({ earlier: value }));
      void later()?.details.complete().then(render);
      later()?.compare.stay(state, step, ask);
      render();
    }, STAY_MS);
  }

  /**
   * @param {State} state
   * @param {number} step
   */
  function lookAt(state, step) {
    ask("at", [step, state.plumb], (value) => ({ place: value ?? answers.place }));
    if (step > 0)
      ask("before", [step - 1, state.plumb], (value) => ({
        before: value && { step, place: value },
      }));
    else answers = { ...answers, before: null };
    later()?.compare.lookAt(state, step, ask);
    const { depth } = state;
    if (depth !== null) ask("across", [step, depth], (value) => ({ across: value }));
  }

  /**
   * @param {import("./engine.js").Kind} kind
   * @param {unknown[]} values
   * @param {(value: any) => Partial<import("./view.js").Answers>} take
   */
  function ask(kind, values, take) {
    run.ask(kind, values, (value) => {
      answers = { ...answers, ...take(value) };
      render();
    });
  }

  function render() {
    if (frame !== 0) return;
    frame = requestAnimationFrame(() => {
      frame = 0;
      view.render(store.state);
      const rest = later();
      rest?.details.step(store.state);
      rest?.details.render(store.state, answers);
      rest?.desk.effect(answers.earlier);
    });
  }

  /** Forgets what the flow before has answered. */
  function forget() {
    answers = { ...UNLOADED };
  }

  return { look, render, forget };
}
