import { h, s, send, setText } from "../dom.js";
import { editable, parseNumber, plain } from "../format.js";
import { LabElement } from "./lab-element.js";

/** Positions of a logarithmic slider in each decade. */
const PER_DECADE = 50;
/** A range from zero over more steps than this is stretched near zero, where the action is. */
const MOST_EVEN_STEPS = 800;
const STRETCHED_POSITIONS = 300;

/** @typedef {import("../types.js").NumberField} NumberField */
/** @typedef {{ value: number, error: string }} NumberView */

/**
 * A slider and a text field for one number. Sends `lab:set-field` while the slider moves and when
 * the text is committed, `lab:unread` for a text that is no number.
 */
export class LabNumber extends LabElement {
  /** @type {NumberField | null} */
  #field = null;
  #path = "";
  #id = "";
  /** @type {NumberView | null} */
  #view = null;
  /** The text that could not be read stands until the next good value. */
  #unread = false;

  /**
   * @param {NumberField} field
   * @param {string} path
   * @param {string} id
   */
  static of(field, path, id) {
    const element = new LabNumber();
    element.#field = field;
    element.#path = path;
    element.#id = id;
    element.dataset["field"] = path;
    return element;
  }

  /** What the kernel takes if nothing is sent. */
  get fallback() {
    return this.#field?.default ?? this.#field?.min ?? 0;
  }

  build() {
    const field = this.#field;
    if (!field) return;
    const id = this.#id;
    const unit = field.unit === "" ? "" : ` (${field.unit})`;
    const range = `${plain(field.min)} to ${plain(field.max)}${field.unit === "" ? "" : ` ${field.unit}`}`;
    const described = `${id}-range ${id}-error`;
    const label = h("label", { for: id }, field.label, h("span", { class: "unit" }, unit));
    const text = h("input", {
      id,
      type: "text",
      inputmode: "decimal",
      autocomplete: "off",
      spellcheck: "false",
      "aria-describedby": described,
    });
    const steps = this.#steps();
    const slider = h("input", {
      type: "range",
      min: String(steps.min),
      max: String(steps.max),
      step: String(steps.step),
      "aria-label": `${field.label}${unit}, slider`,
      "aria-describedby": `${id}-range`,
    });
    const hint = field.published
      ? `allowed ${range}; the model is published for ${plain(field.published[0])} to ${plain(field.published[1])}`
      : `allowed ${range}`;
    this.append(
      h("div", { class: "field-head" }, label, text),
      slider,
      h(
        "div",
        { class: "ends" },
        h("span", { "aria-hidden": "true" }, plain(field.min)),
        this.#publishedBar(),
        h("span", { "aria-hidden": "true" }, plain(field.max)),
      ),
      h("p", { id: `${id}-range`, class: "visually-hidden" }, hint),
      h("p", { id: `${id}-error`, class: "field-error", hidden: "" }),
    );
  }

  /** The part of the slider for which the model is published, as a thin line under it. */
  #publishedBar() {
    const field = this.#field;
    const svg = s("svg", {
      class: "published",
      viewBox: "0 0 100 4",
      preserveAspectRatio: "none",
      "aria-hidden": "true",
    });
    if (field?.published) {
      const [from, to] = field.published.map((value) => 100 * this.#fraction(value));
      const x = Math.max(0, from ?? 0);
      svg.append(s("rect", { x, y: 1, width: Math.min(100, to ?? 100) - x, height: 2 }));
    }
    return svg;
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    const [text, slider] = this.#inputs();
    if (!text || !slider) return;
    slider.addEventListener("input", () => this.#send(this.#valueAt(slider.valueAsNumber)), {
      signal,
    });
    text.addEventListener("change", () => this.#commit(text.value), { signal });
    text.addEventListener(
      "keydown",
      (event) => {
        const steps = { ArrowUp: 1, ArrowDown: -1, PageUp: 10, PageDown: -10 };
        const by = Object.entries(steps).find(([key]) => key === event.key)?.[1];
        if (by === undefined || !this.#view) return;
        event.preventDefault();
        const at = this.#positionOf(this.#view.value) + by * this.#steps().step;
        this.#send(this.#valueAt(at));
      },
      { signal },
    );
  }

  /** @param {NumberView} view */
  render(view) {
    const [text, slider] = this.#inputs();
    const field = this.#field;
    if (!text || !slider || !field) return;
    const changed = this.#view?.value !== view.value;
    if (changed) this.#unread = false;
    this.#view = view;
    const shown = editable(view.value);
    if (!this.#unread && text.value !== shown) text.value = shown;
    const position = String(this.#positionOf(view.value));
    if (slider.value !== position) slider.value = position;
    const words = `${plain(view.value)}${field.unit === "" ? "" : ` ${field.unit}`}`;
    if (slider.getAttribute("aria-valuetext") !== words) {
      slider.setAttribute("aria-valuetext", words);
    }
    const wrong = view.error !== "";
    text.setAttribute("aria-invalid", String(wrong));
    const message = this.querySelector(".field-error");
    setText(message, view.error);
    message?.toggleAttribute("hidden", !wrong);
  }

  /** @param {string} written */
  #commit(written) {
    const value = parseNumber(written);
    const field = this.#field;
    if (!field) return;
    if (value === null) {
      this.#unread = true;
      const unit = field.unit === "" ? "" : ` ${field.unit}`;
      const shown = written.trim() === "" ? "An empty field" : `“${written.trim().slice(0, 40)}”`;
      const message = `${shown} is not a number. Give ${field.label.toLowerCase()} within ${plain(field.min)} to ${plain(field.max)}${unit}, for example ${editable(this.#view?.value ?? field.min)}.`;
      send(this, "unread", { path: this.#path, message });
    } else {
      this.#unread = false;
      this.#send(value);
    }
  }

  /** @param {number} value */
  #send(value) {
    send(this, "set-field", { path: this.#path, value });
  }

  #inputs() {
    return [this.querySelector("input[type=text]"), this.querySelector("input[type=range]")].map(
      (element) => (element instanceof HTMLInputElement ? element : null),
    );
  }

  /** @returns {"even" | "log" | "stretched"} */
  #scale() {
    const field = this.#field;
    if (!field) return "even";
    if (field.scale === "log" && field.min > 0) return "log";
    return field.min === 0 && field.max / field.step > MOST_EVEN_STEPS ? "stretched" : "even";
  }

  /** The slider's own scale: the value itself, or positions along a curve. */
  #steps() {
    const field = this.#field;
    if (!field) return { min: 0, max: 1, step: 1 };
    const scale = this.#scale();
    if (scale === "even") return { min: field.min, max: field.max, step: field.step };
    if (scale === "stretched") return { min: 0, max: STRETCHED_POSITIONS, step: 1 };
    return { min: 0, max: Math.round(PER_DECADE * Math.log10(field.max / field.min)), step: 1 };
  }

  /** @param {number} value */
  #fraction(value) {
    const { min, max } = this.#steps();
    return (this.#positionOf(value) - min) / (max - min);
  }

  /** @param {number} value */
  #positionOf(value) {
    const field = this.#field;
    if (!field) return 0;
    const { max } = this.#steps();
    const inside = Math.min(field.max, Math.max(field.min, value));
    const scale = this.#scale();
    if (scale === "even") return inside;
    if (scale === "stretched") return Math.round(max * Math.cbrt(inside / field.max));
    return Math.round((max * Math.log(inside / field.min)) / Math.log(field.max / field.min));
  }

  /** @param {number} position */
  #valueAt(position) {
    const field = this.#field;
    if (!field) return 0;
    const { min, max } = this.#steps();
    const inside = Math.min(max, Math.max(min, position));
    const scale = this.#scale();
    if (scale === "even") return Number(inside.toPrecision(12));
    if (inside === min) return field.min;
    if (inside === max) return field.max;
    if (scale === "stretched") {
      const value = field.max * (inside / max) ** 3;
      const rounded = Math.round(Number(value.toPrecision(2)) / field.step) * field.step;
      return Number(rounded.toPrecision(12));
    }
    const value = field.min * (field.max / field.min) ** (inside / max);
    return Math.min(field.max, Math.max(field.min, Number(value.toPrecision(2))));
  }
}
