import { LabElement } from "../../elements/lab-element.js";
import { h, rebuild, send, setText } from "../../dom.js";
import { editable, plain, sentence } from "../../format.js";
import { BOX_PARTS } from "../layout/drawing.js";

/** @typedef {import("../layout/drawing.js").Figure} Figure */
/**
 * @typedef {{ level: string, figures: readonly Figure[], figure: number,
 *   overlays: readonly { step: number, id: string, x: number, y: number }[], usual: number,
 *   errors: Readonly<Record<string, string>> }} MaskView
 */

/** A slider moves an overlay error by this, in µm. */
const SLIDER_STEP = 0.05;
/** Differences told beside the sliders; the report has all of them. */
const MOST_EFFECTS = 3;
const AXES = /** @type {const} */ ([
  ["x", "To the right, x"],
  ["y", "Up, y"],
]);

/**
 * The mask that is being changed: how far off it is printed, and its figures. Sends
 * `lab:mask-overlay`, `lab:figure-chosen` and `lab:figure-number`; its buttons have ids.
 */
export class SheetMask extends LabElement {
  /** A pointer lets go of a slider when it is done; a key is pressed again and again. */
  #byPointer = false;

  build() {
    this.id = "mask";
    this.setAttribute("role", "group");
    this.append(
      h(
        "fieldset",
        { class: "overlay" },
        h("legend", {}, "Overlay error"),
        ...AXES.flatMap(([axis, label]) => {
          const id = `overlay-${axis}`;
          return [
            h(
              "div",
              { class: "field-head" },
              h("label", { for: id }, label, h("span", { class: "unit" }, " (µm)")),
              number(id, `${id}-error overlay-words`),
            ),
            h("input", {
              type: "range",
              id: `${id}-slider`,
              step: String(SLIDER_STEP),
              "aria-label": `Overlay error ${axis} (µm), slider`,
            }),
            error(id),
          ];
        }),
        h("p", { id: "overlay-words", class: "soft" }),
        h("p", { class: "buttons print-steps" }),
        h("div", { class: "effect" }),
      ),
      h(
        "fieldset",
        { class: "figures" },
        h("legend", {}, "Figures"),
        h(
          "div",
          { class: "figure-choice" },
          h("label", { for: "figure" }, "Figure"),
          h("select", { id: "figure" }),
        ),
        h(
          "div",
          { class: "box" },
          ...BOX_PARTS.map((part) =>
            h("label", { for: `box-${part}` }, `${part} (µm)`, number(`box-${part}`, "box-error")),
          ),
        ),
        error("box"),
        h("p", { id: "figure-words", class: "soft" }),
        h(
          "p",
          { class: "buttons" },
          h("button", { type: "button", id: "figure-new" }, "New rectangle"),
          h("button", { type: "button", id: "figure-copy" }, "Duplicate"),
          h("button", { type: "button", id: "figure-remove" }, "Delete"),
        ),
      ),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener("pointerdown", () => (this.#byPointer = true), { signal });
    this.addEventListener("keydown", () => (this.#byPointer = false), { signal });
    this.addEventListener(
      "input",
      ({ target }) => {
        const axis = sliderAxis(target);
        if (axis)
          send(this, "mask-overlay", {
            axis,
            value: valueOf(target),
            phase: "held",
          });
      },
      { signal },
    );
    this.addEventListener(
      "change",
      ({ target }) => {
        const axis = sliderAxis(target);
        if (axis) {
          const phase = this.#byPointer ? "done" : "held";
          send(this, "mask-overlay", { axis, value: valueOf(target), phase });
        } else if (target instanceof HTMLSelectElement) {
          send(this, "figure-chosen", { figure: Number(target.value) });
        } else if (target instanceof HTMLInputElement) {
          const [kind = "", part = ""] = target.id.split("-");
          if (kind === "overlay") send(this, "mask-overlay", { axis: part, text: target.value });
          else send(this, "figure-number", { part, text: target.value });
        }
      },
      { signal },
    );
    this.addEventListener(
      "click",
      ({ target }) => {
        const step = target instanceof HTMLElement ? target.dataset["go"] : undefined;
        if (step !== undefined) send(this, "go", { step: Number(step) });
      },
      { signal },
    );
  }

  /** @param {MaskView | null} view */
  render(view) {
    this.hidden = view === null;
    if (!view) return;
    this.setAttribute("aria-label", `Changes of ${view.level}`);
    this.#overlay(view);
    this.#figures(view);
  }

  /** @param {readonly import("../types.js").Difference[] | null} differences of the step in view */
  effect(differences) {
    const place = this.querySelector(".effect");
    if (!(place instanceof HTMLElement)) return;
    const words = (differences ?? []).slice(0, MOST_EFFECTS).map(({ message }) => message);
    rebuild(place, JSON.stringify(differences && words), () =>
      differences
        ? [
            h("h5", {}, "What the last change did to the step in view"),
            words.length === 0
              ? h("p", {}, "Nothing that shows.")
              : h("ul", {}, ...words.map((text) => h("li", {}, sentence(text)))),
          ]
        : [],
    );
  }

  /** @param {MaskView} view */
  #overlay({ overlays, usual, errors }) {
    const fieldset = this.querySelector(".overlay");
    if (fieldset instanceof HTMLFieldSetElement) fieldset.disabled = overlays.length === 0;
    for (const [axis] of AXES) {
      const value = overlays[0]?.[axis] ?? 0;
      const slider = this.querySelector(`#overlay-${axis}-slider`);
      if (slider instanceof HTMLInputElement) {
        [slider.min, slider.max] = [String(-usual), String(usual)];
        if (Number(slider.value) !== value) slider.value = String(value);
        slider.setAttribute("aria-valuetext", `${plain(value)} µm`);
      }
      fill(this, `overlay-${axis}`, value, errors[`overlay-${axis}`] ?? "");
    }
    const steps = overlays.map(({ step, id }) => `${step + 1} (${id})`).join(", ");
    const [first] = overlays;
    const differ = overlays.some(({ x, y }) => x !== first?.x || y !== first?.y);
    setText(
      this.querySelector("#overlay-words"),
      overlays.length === 0
        ? "No step of this flow prints this level."
        : `How far off its place the mask is printed in ${overlays.length === 1 ? "step" : "steps"} ${steps}. The flow runs again from there on.${
            differ ? " They differ now; a change here makes them alike." : ""
          }`,
    );
    const go = this.querySelector(".print-steps");
    if (go instanceof HTMLElement) {
      rebuild(go, steps, () =>
        overlays.map(({ step }) =>
          h(
            "button",
            { type: "button", "data-go": String(step + 1) },
            `Look after step ${step + 2}`,
          ),
        ),
      );
    }
  }

  /** @param {MaskView} view */
  #figures({ figures, figure, errors }) {
    const select = this.querySelector("#figure");
    if (select instanceof HTMLSelectElement) {
      rebuild(select, JSON.stringify(figures), () => [
        h("option", { value: "-1" }, figures.length === 0 ? "none is drawn" : "choose one"),
        ...figures.map(({ kind, box: [x1, y1, x2, y2], corners }, k) =>
          h(
            "option",
            { value: String(k) },
            `${k + 1}: ${kind === "polygon" ? `polygon, ${corners} corners` : "rectangle"}, ${plain(x1)}, ${plain(y1)} to ${plain(x2)}, ${plain(y2)}`,
          ),
        ),
      ]);
      select.value = String(figure);
    }
    const one = figures[figure];
    for (const id of ["figure-copy", "figure-remove"]) {
      this.querySelector(`#${id}`)?.setAttribute("aria-disabled", String(!one));
    }
    BOX_PARTS.forEach((part, k) => {
      const input = this.querySelector(`#box-${part}`);
      if (!(input instanceof HTMLInputElement)) return;
      input.disabled = !one || (one.kind === "polygon" && k > 1);
      fill(this, `box-${part}`, one?.box[k] ?? NaN, errors[`box-${part}`] ?? "");
    });
    const wrong = BOX_PARTS.map((part) => errors[`box-${part}`] ?? "").find((text) => text !== "");
    tell(this, "box", wrong ?? "");
    setText(
      this.querySelector("#figure-words"),
      one?.kind === "polygon"
        ? "A polygon is moved as a whole: by x1 and y1, or by dragging it. Its shape is changed in the file."
        : "Drag on free ground draws a rectangle; drag or tap one to take it.",
    );
  }
}

/**
 * @param {string} id
 * @param {string} described
 */
function number(id, described) {
  return h("input", {
    id,
    type: "text",
    inputmode: "decimal",
    autocomplete: "off",
    spellcheck: "false",
    "aria-describedby": described,
  });
}

/** @param {string} id */
function error(id) {
  return h("p", { id: `${id}-error`, class: "field-error", hidden: "" });
}

/**
 * Writes a number into its field, unless a text stands there that was refused or is being typed.
 * @param {HTMLElement} place
 * @param {string} id
 * @param {number} value
 * @param {string} wrong
 */
export function fill(place, id, value, wrong) {
  const input = place.querySelector(`#${id}`);
  if (!(input instanceof HTMLInputElement)) return;
  const shown = Number.isNaN(value) ? "" : editable(value);
  if (wrong === "" && (document.activeElement !== input || input.dataset["shown"] !== shown)) {
    input.value = shown;
  }
  input.dataset["shown"] = shown;
  input.setAttribute("aria-invalid", String(wrong !== ""));
  tell(place, id, wrong);
}

/**
 * @param {HTMLElement} place
 * @param {string} id
 * @param {string} wrong
 */
export function tell(place, id, wrong) {
  const message = place.querySelector(`#${id}-error`);
  setText(message, wrong);
  message?.toggleAttribute("hidden", wrong === "");
}

/** @param {EventTarget | null} target */
function sliderAxis(target) {
  if (!(target instanceof HTMLInputElement) || target.type !== "range") return null;
  return target.id === "overlay-x-slider" ? "x" : "y";
}

/** @param {EventTarget | null} target */
function valueOf(target) {
  return target instanceof HTMLInputElement ? target.valueAsNumber : NaN;
}
