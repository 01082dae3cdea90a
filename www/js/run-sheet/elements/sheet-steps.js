import { LabElement } from "../../elements/lab-element.js";
import { h, send, setText } from "../../dom.js";

/**
 * @typedef {{ step: number, count: number, name: string, run: number, done: boolean,
 *   playing: boolean }} StepsView
 */

/** Goes from step to step: buttons, a scrubber, play. Sends `lab:go` and `lab:play`. */
export class SheetSteps extends LabElement {
  build() {
    this.append(
      h(
        "div",
        { class: "steps-bar", role: "group", "aria-label": "Steps" },
        button("first", "First step", "|◂"),
        button("back", "Step back", "◂"),
        h("input", { id: "scrubber", type: "range", min: "1", step: "1", "aria-label": "Step" }),
        button("on", "Step on", "▸"),
        button("last", "Last step", "▸|"),
        button("play", "Play", "Play"),
        h("span", { class: "steps-words" }),
        h("progress", { class: "steps-progress", "aria-label": "Steps computed" }),
      ),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener(
      "click",
      (event) => {
        const found = event.target instanceof Element ? event.target.closest("button") : null;
        const to = found?.dataset["to"];
        if (to === "play") send(this, "play");
        else if (to === "first") send(this, "go", { step: 0 });
        else if (to === "last") send(this, "go", { step: Infinity });
        else if (to) send(this, "go", { by: to === "on" ? 1 : -1 });
      },
      { signal },
    );
    this.querySelector("#scrubber")?.addEventListener(
      "input",
      (event) => {
        if (event.target instanceof HTMLInputElement) {
          send(this, "go", { step: event.target.valueAsNumber - 1 });
        }
      },
      { signal },
    );
  }

  /** @param {StepsView} view */
  render({ step, count, name, run, done, playing }) {
    const slider = this.querySelector("#scrubber");
    if (slider instanceof HTMLInputElement) {
      slider.max = String(count);
      slider.value = String(step + 1);
      slider.setAttribute("aria-valuetext", `${step + 1} of ${count}, ${name}`);
    }
    setText(this.querySelector(".steps-words"), `${step + 1} of ${count}`);
    const bar = this.querySelector("progress");
    if (bar) {
      bar.max = count;
      bar.value = run;
      bar.hidden = done;
    }
    const play = this.querySelector("[data-to=play]");
    setText(play, playing ? "Pause" : "Play");
    play?.setAttribute("aria-label", playing ? "Pause" : "Play");
    for (const [to, off] of /** @type {[string, boolean][]} */ ([
      ["first", step === 0],
      ["back", step === 0],
      ["on", step >= count - 1],
      ["last", step >= count - 1],
    ])) {
      // Not disabled: a button that loses the focus at the end of the way takes it along.
      this.querySelector(`[data-to=${to}]`)?.setAttribute("aria-disabled", String(off));
    }
  }
}

/**
 * @param {string} to
 * @param {string} label
 * @param {string} text
 */
function button(to, label, text) {
  return h("button", { type: "button", "data-to": to, "aria-label": label }, text);
}
