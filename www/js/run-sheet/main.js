/** Starts the Run sheet: loads the engine of whole flows and mounts. */

import { alertNow } from "../announce.js";
import { setText } from "../dom.js";
import { LabCaution } from "../elements/lab-caution.js";
import { LabChoice } from "../elements/lab-choice.js";
import { LabHazardLine } from "../elements/lab-hazard-line.js";
import { LabNumber } from "../elements/lab-number.js";
import { patterns } from "../elements/lab-picture.js";
import { LabPlot } from "../elements/lab-plot.js";
import { kernelVersion, loadFamily, useFamily } from "../lab.js";
import { applyTheme, chosenTheme } from "../theme.js";
import { SheetCompare } from "./elements/sheet-compare.js";
import { SheetEditor } from "./elements/sheet-editor.js";
import { SheetLayout } from "./elements/sheet-layout.js";
import { SheetLevels } from "./elements/sheet-levels.js";
import { SheetLine } from "./elements/sheet-line.js";
import { SheetMask } from "./elements/sheet-mask.js";
import { SheetPinned } from "./elements/sheet-pinned.js";
import { SheetPlace } from "./elements/sheet-place.js";
import { SheetReport } from "./elements/sheet-report.js";
import { SheetSection } from "./elements/sheet-section.js";
import { SheetSteps } from "./elements/sheet-steps.js";
import { SheetTraveller } from "./elements/sheet-traveller.js";
import { mount } from "./page.js";
import { bare } from "./embed.js";
import { giveEarly, startEarly } from "./run.js";
import { fetchEarly } from "./shipped.js";

const ELEMENTS = {
  "lab-caution": LabCaution,
  "lab-choice": LabChoice,
  "lab-hazard-line": LabHazardLine,
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
  "sheet-section": SheetSection,
  "sheet-steps": SheetSteps,
  "sheet-traveller": SheetTraveller,
};

async function start() {
  bare();
  applyTheme();
  const select = document.getElementById("theme");
  if (select instanceof HTMLSelectElement) select.value = chosenTheme();
  const text = document.getElementById("starting-text");
  if (typeof WebAssembly !== "object") {
    setText(
      text,
      "This browser cannot run WebAssembly, which the process kernel is compiled to; some strict security settings switch it off. Allow it for this page or use another browser.",
    );
    return;
  }
  startEarly();
  fetchEarly(location.hash);
  try {
    const family = await loadFamily("wafer", giveEarly);
    useFamily(family);
    setText(document.getElementById("version"), `Bare Wafer, kernel ${kernelVersion()}`);
    // One set of hatches for all pictures of the page.
    document.getElementById("hatches")?.append(patterns());
    for (const [name, element] of Object.entries(ELEMENTS)) customElements.define(name, element);
    document.getElementById("starting")?.setAttribute("hidden", "");
    document.getElementById("sheet")?.removeAttribute("hidden");
    mount(family);
  } catch (thrown) {
    const reason = thrown instanceof Error ? thrown.message : String(thrown);
    setText(text, `The kernel could not be loaded. ${reason}.`);
    alertNow(`The kernel could not be loaded. ${reason}.`);
    const again = document.getElementById("retry");
    again?.parentElement?.removeAttribute("hidden");
    again?.addEventListener("click", () => location.reload());
  }
}

await start();
