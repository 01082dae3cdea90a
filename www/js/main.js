/** Starts the page: loads the part of the kernel that the address asks for, and mounts. */

import { benchIn } from "./address.js";
import { mount } from "./bench-page.js";
import { FamilyLoader } from "./family-loader.js";
import { kernelVersion } from "./lab.js";
import { LabCaution } from "./elements/lab-caution.js";
import { LabChoice } from "./elements/lab-choice.js";
import { LabColor } from "./elements/lab-color.js";
import { LabExercise } from "./elements/lab-exercise.js";
import { LabHazardLine } from "./elements/lab-hazard-line.js";
import { LabNumber } from "./elements/lab-number.js";
import { LabPicture } from "./elements/lab-picture.js";
import { LabPlot } from "./elements/lab-plot.js";
import { LabReading } from "./elements/lab-reading.js";
import { LabSettings } from "./elements/lab-settings.js";
import { LabStrip } from "./elements/lab-strip.js";
import { LabText } from "./elements/lab-text.js";
import { LabWorking } from "./elements/lab-working.js";
import { applyTheme, chosenTheme } from "./theme.js";
import { setText } from "./dom.js";

const ELEMENTS = {
  "lab-caution": LabCaution,
  "lab-choice": LabChoice,
  "lab-color": LabColor,
  "lab-exercise": LabExercise,
  "lab-hazard-line": LabHazardLine,
  "lab-number": LabNumber,
  "lab-picture": LabPicture,
  "lab-plot": LabPlot,
  "lab-reading": LabReading,
  "lab-settings": LabSettings,
  "lab-strip": LabStrip,
  "lab-text": LabText,
  "lab-working": LabWorking,
};

async function start() {
  applyTheme();
  const select = document.getElementById("theme");
  if (select instanceof HTMLSelectElement) select.value = chosenTheme();
  for (const [name, element] of Object.entries(ELEMENTS)) customElements.define(name, element);
  if (typeof WebAssembly !== "object") {
    setText(
      document.getElementById("starting-text"),
      "This browser cannot run WebAssembly, which the process kernel is compiled to; some strict security settings switch it off. Allow it for this page or use another browser.",
    );
    return;
  }
  const loader = new FamilyLoader();
  await loader.need(benchIn(location.hash).family);
  setText(document.getElementById("version"), `Bare Wafer, kernel ${kernelVersion()}`);
  document.getElementById("starting-title")?.remove();
  mount(loader);
}

await start();
