/** Starts the Run sheet: loads the engine of whole flows and mounts. */

import { alertNow } from "../announce.js";
import { setText } from "../dom.js";
import { LabCaution } from "../elements/lab-caution.js";
import { LabHazardLine } from "../elements/lab-hazard-line.js";
import { patterns } from "../elements/lab-picture.js";
import { kernelVersion, loadFamily, useFamily } from "../lab.js";
import { applyTheme, chosenTheme } from "../theme.js";
import { FAMILY } from "./early.js";
import { SheetSection } from "./elements/sheet-section.js";
import { SheetSteps } from "./elements/sheet-steps.js";
import { SheetTraveller } from "./elements/sheet-traveller.js";
import { mount } from "./page.js";
import { bare } from "./embed.js";

/** What the first picture is made of; the others come in `later.js`. */
const ELEMENTS = {
  "lab-caution": LabCaution,
  "lab-hazard-line": LabHazardLine,
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
  try {
    const family = await loadFamily(FAMILY);
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
