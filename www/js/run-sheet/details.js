/** Hands the elements that come after the first picture the part of the state that they show. */

import { LabPlot } from "../elements/lab-plot.js";
import { find, setText } from "../dom.js";
import { sentence } from "../format.js";
import { CompareView } from "./compare/view.js";
import { SheetEditor } from "./elements/sheet-editor.js";
import { SheetLayout } from "./elements/sheet-layout.js";
import { SheetLevels } from "./elements/sheet-levels.js";
import { SheetLine } from "./elements/sheet-line.js";
import { SheetMask } from "./elements/sheet-mask.js";
import { SheetPlace } from "./elements/sheet-place.js";
import { SheetReport } from "./elements/sheet-report.js";
import { fieldsOf } from "./fields.js";
import { listsOf, partsOf } from "./lists.js";
import { factOf } from "./view.js";

/** @typedef {import("./types.js").State} State */
/** @typedef {import("./view.js").Answers} Answers */

export class Details {
  /** What the drawing desk shows. */
  masks = {
    layout: find("sheet-layout", SheetLayout),
    levels: find("sheet-levels", SheetLevels),
    mask: find("sheet-mask", SheetMask),
    line: find("sheet-line", SheetLine),
  };
  #place = find("sheet-place", SheetPlace);
  #plot = find("lab-plot", LabPlot);
  #report = find("sheet-report", SheetReport);
  #editor = find("sheet-editor", SheetEditor);
  #schema;

  /**
   * Where the bench of a step opens: nowhere before its words are loaded.
   * @type {typeof import("./to-bench.js").benchLink}
   */
  #benchLink = () => ({ address: "", carries: "" });

  /** @param {readonly import("../types.js").OperationSchema[]} schema of the steps */
  constructor(schema) {
    this.#schema = schema;
    this.compare = new CompareView(schema);
  }

  /** Loads what no picture waits for. */
  async complete() {
    const { benchLink } = await import("./to-bench.js");
    this.#benchLink = benchLink;
  }

  /**
   * What follows a step at once.
   * @param {State} state
   */
  step(state) {
    this.compare.step(state);
  }

  /**
   * @param {State} state
   * @param {Answers} answers
   */
  render(state, answers) {
    const { doc, told, step } = state;
    if (!doc) return;
    const fact = factOf(state, step);
    const count = doc.steps.length;
    this.compare.render(state, answers);
    if (answers.place) this.#place.render(answers.place, state.depth);
    const charts = answers.place ? [answers.place.chart] : [];
    const first = state.depth !== null && answers.across ? [answers.across] : [];
    const all = [...first, ...charts];
    const ghost = first.length > 0 ? answers.pinnedAcross : (answers.pinnedPlace?.chart ?? null);
    const [id = ""] = all.map((chart) => chart.id);
    this.#plot.render({
      charts: all,
      id,
      ghost: state.pin ? ghost : null,
      pinned: "A",
    });
    const report = told[step]?.report ?? null;
    const refusal = state.refusal && [step, -1].includes(state.refusal.step) ? state.refusal : null;
    this.#report.render({
      purpose: fact?.purpose ?? "",
      report,
      changed: answers.changed,
      earlier: state.pin ? null : answers.earlier,
      sentences: answers.sentences,
      summary: state.summary,
      last: step === count - 1,
      refusal: refusal?.error ?? null,
      bench: this.#benchLink(
        doc,
        step,
        answers.before?.step === step ? answers.before.place : null,
      ),
    });
    this.#editor.render({
      key: `${doc.flow} ${doc.steps[step]?.id}`,
      operation: String(doc.steps[step]?.step["operation"] ?? ""),
      fields: fieldsOf(this.#schema, doc, step),
      lists: listsOf(this.#schema, doc, step),
      parts: partsOf(this.#schema, doc, step),
      errors: errorsOf(state),
      note: doc.steps[step]?.note ?? "",
    });
    setText(document.getElementById("section-words"), answers.sentences.join(" "));
  }

  /** Draws the plot again in the palette in use. */
  refresh() {
    this.#plot.refresh();
  }

  shownChart() {
    return this.#plot.shown;
  }
}

/**
 * Messages by field of the step in view: texts that were not read, and the kernel's refusal.
 * @param {State} state
 * @returns {Record<string, string>}
 */
function errorsOf({ refusal, unread, step }) {
  const path = /^steps\[(\d+)\]\.step\.(.+)$/.exec(refusal?.error.field ?? "");
  if (!refusal || !path || Number(path[1]) !== step) return { ...unread };
  const { message, hint } = refusal.error;
  const words = message.replace(/^step \d+ \([^)]*\), (?:[a-z_.[\]\d]+: )?/, "");
  return { [String(path[2])]: `${sentence(words)} ${sentence(hint)}`, ...unread };
}
