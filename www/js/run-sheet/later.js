/**
 * What no first picture waits for: masks, settings, report, comparison, and what leaves the page.
 * It is loaded once the first section has been painted; until then the page shows the section, the
 * steps and their cautions.
 */

import { LabChoice } from "../elements/lab-choice.js";
import { LabNumber } from "../elements/lab-number.js";
import { LabPlot } from "../elements/lab-plot.js";
import { comparison } from "./compare/pin.js";
import { Details } from "./details.js";
import { editing } from "./editing.js";
import { SheetCompare } from "./elements/sheet-compare.js";
import { SheetEditor } from "./elements/sheet-editor.js";
import { SheetLayout } from "./elements/sheet-layout.js";
import { SheetLevels } from "./elements/sheet-levels.js";
import { SheetLine } from "./elements/sheet-line.js";
import { SheetMask } from "./elements/sheet-mask.js";
import { SheetPinned } from "./elements/sheet-pinned.js";
import { SheetPlace } from "./elements/sheet-place.js";
import { SheetReport } from "./elements/sheet-report.js";
import { Desk } from "./layout/desk.js";
import { presenting } from "./presenting.js";
import { linkSafetySheet } from "./safety-link.js";
import { saving } from "./saving.js";
import { EMPTY } from "./store.js";

/** @typedef {import("./types.js").State} State */
/** @typedef {ReturnType<typeof later>} Later */

const ELEMENTS = {
  "lab-choice": LabChoice,
  "lab-number": LabNumber,
  "lab-plot": LabPlot,
  "sheet-compare": SheetCompare,
  "sheet-editor": SheetEditor,
  "sheet-layout": SheetLayout,
  "sheet-levels": SheetLevels,
  "sheet-line": SheetLine,
  "sheet-mask": SheetMask,
  "sheet-pinned": SheetPinned,
  "sheet-place": SheetPlace,
  "sheet-report": SheetReport,
};

/**
 * @param {{ family: import("../lab.js").Family,
 *   schema: readonly import("../types.js").OperationSchema[],
 *   store: import("./store.js").Store, run: import("./run.js").Run,
 *   view: import("./view.js").View, say: (text: string) => void,
 *   flows: ReturnType<typeof import("./opening.js").opening> }} page
 */
export function later({ family, schema, store, run, view, say, flows }) {
  for (const [name, element] of Object.entries(ELEMENTS)) customElements.define(name, element);
  const details = new Details(schema);
  const edits = editing({ store, schema, say });
  const desk = new Desk(family.glue, details.masks, {
    edit: (doc) => edits.edit(doc),
    hide: (hidden) => store.dispatch({ kind: "hide", hidden }),
    say,
  });
  const compare = comparison({
    store,
    run,
    say,
    base: flows.base,
    edit: edits.edit,
  });
  const present = presenting({ store, run, view, say, address: flows.address });
  const files = saving({ store, details, say, flows });
  linkSafetySheet(store);

  /**
   * @param {State} state
   * @param {State} before
   */
  function follow(state, before) {
    desk.follow(state);
    present.follow(state, before);
  }
  follow(store.state, EMPTY);

  return {
    details,
    desk,
    compare,
    follow,
    verbs: { ...desk.verbs, ...edits.verbs, ...files.verbs },
    buttons: {
      ...desk.buttons,
      ...present.buttons,
      ...compare.buttons,
      ...edits.buttons,
      ...files.buttons,
    },
  };
}
