/** Hands the elements of the first picture the part of the state that they show. */

import { LabCaution } from "../elements/lab-caution.js";
import { LabHazardLine } from "../elements/lab-hazard-line.js";
import { find, h, rebuild, setText } from "../dom.js";
import { sentence, spoken } from "../format.js";
import { cautions, cautionsOf } from "../lab.js";
import { SheetSection } from "./elements/sheet-section.js";
import { SheetSteps } from "./elements/sheet-steps.js";
import { SheetTraveller } from "./elements/sheet-traveller.js";
import { shownStep } from "./store.js";

/** @typedef {import("../types.js").Json} Json */
/** @typedef {import("./types.js").State} State */
/** @typedef {import("./types.js").Told} Told */
/**
 * @typedef {{ place: import("./types.js").Place | null, across: import("./types.js").Chart | null,
 *   sentences: string[], changed: import("./types.js").Difference[] | null,
 *   earlier: import("./types.js").Difference[] | null,
 *   before: { step: number, place: import("./types.js").Place } | null,
 *   against: import("./types.js").Difference[] | null,
 *   pinnedPlace: import("./types.js").Place | null,
 *   pinnedAcross: import("./types.js").Chart | null }} Answers
 */

export class View {
  #traveller = find("sheet-traveller", SheetTraveller);
  section = find("sheet-section", SheetSection);
  #steps = find("sheet-steps", SheetSteps);
  #caution = find("lab-caution", LabCaution);
  #line = find("lab-hazard-line", LabHazardLine);
  /**
   * Cautions that were asked for, by what a step has said or by its settings.
   * @type {WeakMap<object, import("../types.js").Callout[]>}
   */
  #rows = new WeakMap();
  #listed = false;

  /**
   * What follows a step at once: where in the flow it is, and its caution in a line. The rest of
   * the page waits until somebody stays.
   * @param {State} state
   */
  step(state) {
    const { doc, facts, told, step } = state;
    if (!doc) return;
    const fact = factOf(state, step);
    const count = doc.steps.length;
    const name = fact ? `${fact.name}: ${fact.id}` : (doc.steps[step]?.id ?? "");
    this.#traveller.go(step);
    this.#steps.render({
      step,
      count,
      name,
      run: told.length,
      done: state.summary !== null,
      playing: state.playing,
    });
    const shown = shownStep(state);
    const behind = shown !== step;
    this.section.render({
      title: behind
        ? `Step ${step + 1} has not run yet: the section after step ${shown + 1}`
        : `${state.pin ? "B, now: section" : "Section"} after step ${step + 1}, ${name}`,
      pinned: state.pin !== null,
      view: state.view,
      plumb: state.plumb,
      width: facts?.widthUm ?? 1,
      stale: behind,
    });
    const rows = this.cautions(doc.steps[step]?.step, told[step]);
    this.#line.render({ rows });
    // Nothing is told of a step that has not run: its cautions wait for nothing.
    if (behind) this.#cautionsOf(step, rows);
  }

  /**
   * @param {number} step
   * @param {import("../types.js").Callout[]} rows
   */
  #cautionsOf(step, rows) {
    this.#caution.render({ rows, measured: false });
    this.#caution.dataset["step"] = String(step + 1);
  }

  /** @param {State} state */
  render(state) {
    const { doc, facts, told, step } = state;
    if (!doc) return;
    const count = doc.steps.length;
    const title = facts?.title || doc.title || doc.flow;
    setText(document.querySelector("title"), `${doc.flow}, step ${step + 1} · Bare Wafer`);
    setText(document.getElementById("flow-title"), title);
    setText(document.getElementById("flow-aim"), facts?.aim ?? doc["aim"] ?? "");
    this.#notices(state);
    for (const [id, off] of /** @type {[string, boolean][]} */ ([
      ["undo", state.past.length === 0],
      ["redo", state.future.length === 0],
      ["remove", count < 2],
      ["move-up", step === 0],
      ["move-down", step === count - 1],
    ])) {
      document.getElementById(id)?.setAttribute("aria-disabled", String(off));
    }
    if (this.#listed) this.#list(state);
    this.step(state);
    this.#cautionsOf(step, this.cautions(doc.steps[step]?.step, told[step]));
  }

  /** From now on the list of steps is shown, too: no first picture waits for it. */
  list() {
    this.#listed = true;
  }

  /** @param {State} state */
  #list(state) {
    const { doc, told } = state;
    this.#traveller.render({
      rows: (doc?.steps ?? []).map(({ id, step: object, note, purpose }, k) => {
        const known = factOf(state, k);
        const said = told[k]?.report.id === id ? told[k] : undefined;
        return {
          id,
          name: `${known?.name ?? spoken(String(object["operation"]))}: ${id}`,
          words: known?.words ?? "",
          purpose: purpose ?? "",
          note: note ?? "",
          signal: this.#signal(object, said),
          warnings: said?.report.warnings.length ?? 0,
          wrong: state.refusal?.step === k,
          thumbnail: said?.thumbnail ?? null,
          run: said !== undefined,
        };
      }),
    });
  }

  /**
   * The cautions of a step: of what it has said, and before it has run, or where it is refused, of
   * its settings. No step is shown without them.
   * @param {Json | undefined} settings
   * @param {Told | undefined} said
   */
  cautions(settings, said) {
    const key = said ?? settings;
    if (!key) return [];
    const known =
      this.#rows.get(key) ?? (said ? cautionsOf(said.report.hazards) : cautions(settings ?? {}));
    this.#rows.set(key, known);
    return known;
  }

  /**
   * The loudest signal word of a step.
   * @param {Json} settings
   * @param {Told | undefined} said
   */
  #signal(settings, said) {
    const [worst] = this.cautions(settings, said);
    const word = worst?.signal_word ?? "";
    return word === "Danger" || word === "Warning" ? word : worst ? "Caution" : "";
  }

  /** @param {State} state */
  #notices({ notices, refusal, broken }) {
    const place = document.getElementById("notices");
    if (!place) return;
    const file = refusal?.step === -1 ? refusal.error : null;
    const wrong = file
      ? [`The flow cannot be run as it is. ${sentence(file.message)} ${sentence(file.hint)}`]
      : [];
    place.hidden = notices.length + wrong.length === 0 && broken === "";
    rebuild(place, JSON.stringify([notices, wrong, broken]), () => [
      ...wrong.map((text) => h("p", { class: "card wrong" }, text)),
      ...notices.map((text) => h("p", { class: "card warn" }, text)),
      ...(broken === ""
        ? []
        : [
            h(
              "div",
              { class: "card wrong" },
              h("p", {}, "The computation broke down. Your flow is kept."),
              h("pre", {}, broken),
              h("button", { type: "button", id: "restart" }, "Start it again"),
            ),
          ]),
    ]);
  }
}

/**
 * What the kernel has told of a step; nothing while a change is on its way.
 * @param {State} state
 * @param {number} step
 */
export function factOf({ doc, facts }, step) {
  const [own, known] = [doc?.steps[step], facts?.steps[step]];
  if (!own || !known) return null;
  return own.id === known.id && own.step["operation"] === known.operation ? known : null;
}
