/** Hands the comparison its part of the state. */

import { find, setText } from "../../dom.js";
import { quantity, sentence } from "../../format.js";
import { SheetCompare } from "../elements/sheet-compare.js";
import { SheetPinned } from "../elements/sheet-pinned.js";
import { shownStep } from "../store.js";
import { largestRows, measurementRows, placeRows, resultDifferences } from "./rows.js";
import { settingsThatDiffer } from "./settings.js";
import { pairOf, shownTwin } from "./state.js";

/** @typedef {import("../types.js").State} State */
/** @typedef {import("../view.js").Answers} Answers */

export class CompareView {
  pinned = find("sheet-pinned", SheetPinned);
  #tables = find("sheet-compare", SheetCompare);
  #schema;
  /**
   * Settings that differ, for the pair of flows that was asked last.
   * @type {{ a: unknown, b: unknown, rows: import("./settings.js").Changed[] } | null}
   */
  #settings = null;

  /** @param {readonly import("../../types.js").OperationSchema[]} schema of the steps */
  constructor(schema) {
    this.#schema = schema;
  }

  /**
   * What follows a step at once.
   * @param {State} state
   */
  step(state) {
    const { pin, view, step } = state;
    const both = pin !== null && view.both;
    this.pinned.hidden = !both;
    setText(document.getElementById("compare-words"), wordsOf(state));
    if (!both) return;
    const shown = shownStep(state);
    const twin = shownTwin(state, shown);
    const id = twin === null ? "" : (pin.doc.steps[twin]?.id ?? "");
    const name = twin === null ? "" : (pin.facts?.steps[twin]?.name ?? "");
    this.pinned.render({
      title:
        twin === null
          ? "A, pinned: not computed yet"
          : `A, pinned: section after step ${twin + 1}, ${name}: ${id}`,
      plumb: state.plumb,
      stale: twin === null || shown !== step,
    });
  }

  /**
   * @param {State} state
   * @param {Answers} answers
   */
  render(state, answers) {
    const { pin, doc, view } = state;
    for (const id of ["unpin", "take-back", "side-by-side-label", "compare-words"]) {
      document.getElementById(id)?.toggleAttribute("hidden", pin === null);
    }
    setText(document.getElementById("pin-run"), pin ? "Pin B instead" : "Pin this run");
    const box = document.getElementById("side-by-side");
    if (box instanceof HTMLInputElement) box.checked = view.both;
    const select = document.getElementById("compare-with");
    if (select instanceof HTMLSelectElement) {
      const asShipped = pin?.words.endsWith(", as shipped");
      const own = select.querySelector("[value=pinned]");
      if (own instanceof HTMLOptionElement) own.hidden = own.disabled = !pin || asShipped === true;
      select.value = pin ? (asShipped ? pin.base : "pinned") : "";
    }
    this.#tables.parentElement?.toggleAttribute("hidden", pin === null);
    if (!pin || !doc) return;
    if (this.#settings?.a !== pin.doc || this.#settings.b !== doc) {
      const rows = settingsThatDiffer(this.#schema, pin.doc, doc);
      this.#settings = { a: pin.doc, b: doc, rows };
    }
    const step = shownStep(state);
    const pair = pairOf(state, step);
    const twin = shownTwin(state, step);
    const [one, other] = [pin.told[twin ?? -1]?.report, state.told[step]?.report];
    const { place, pinnedPlace, against } = answers;
    this.#tables.render({
      step: step + 1,
      ready: twin !== null && against !== null,
      largest: twin === null || !against ? [] : largestRows(against),
      results:
        one && other && pair?.how !== "before" ? resultDifferences(one.results, other.results) : [],
      x: place?.x_um ?? null,
      here: twin !== null && place && pinnedPlace ? placeRows(pinnedPlace, place) : [],
      finished:
        pin.summary && state.summary
          ? measurementRows(pin.summary.measurements, state.summary.measurements)
          : null,
      settings: this.#settings.rows,
    });
  }
}

/**
 * What stands beside what, in words.
 * @param {State} state
 */
function wordsOf(state) {
  const { pin, doc, facts } = state;
  if (!pin || !doc) return "";
  const words = [`A, pinned: ${pin.words}. B: the flow as it is now.`];
  const step = shownStep(state);
  const pair = step < 0 ? null : pairOf(state, step);
  const own = doc.steps[step]?.id ?? "";
  const other = pair ? `step ${pair.step + 1}, ${pin.doc.steps[pair.step]?.id ?? ""}` : "";
  if (pair?.how === "place") words.push(`Beside ${own} stands ${other}, of A.`);
  else if (pair?.how === "before" && pair.step >= 0) {
    words.push(`Only B has the step ${own}: A is shown after its ${other}.`);
  } else if (pair?.how === "before") {
    words.push(`Only B has the step ${own}: A has none before it, so nothing stands beside it.`);
  }
  const length = pin.facts?.widthUm;
  if (length !== undefined && facts && length !== facts.widthUm) {
    const lengths = `${quantity(length, "µm")} and ${quantity(facts.widthUm, "µm")}`;
    words.push(`The sections are ${lengths} long; they are compared as far as both go.`);
  }
  const count = pin.doc.steps.length;
  if (pin.refusal) {
    const { step: at, error } = pin.refusal;
    const place = at < 0 ? "A cannot be run" : `A stops at step ${at + 1}`;
    words.push(`${place}: ${sentence(error.message)}`);
  } else if (!pin.summary) words.push(`${pin.told.length} of ${count} steps of A are computed.`);
  return words.join(" ");
}
