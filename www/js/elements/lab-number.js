import { h, s, send, setText } from "../dom.js";
import { editable, parseNumber, plain } from "../format.js";
import { scaleOf } from "../scale.js";
import { LabElement } from "./lab-element.js";

/** @typedef {import("../types.js").NumberField} NumberField */
/** @typedef {{ value: number, error: string }} NumberView */

/**
 * A slider and a text field for one number. Sends `lab:set-field` while the slider moves and when
 * the text is committed, `lab:unread` for a text that is no number.
 */
export class LabNumber extends LabElement {
  /** @type {NumberField | null} */
  #field = null;
  /** @type {import("../scale.js").SliderScale | null} */
  #scale = null;
  #path = "";
  #id = "";
  /** @type {NumberView | null} */
  #view = null;
  /** The text that could not be read stands until the next good value. */
  #unread = false;
  /** Whether a text stands there that has not been committed: a new result must not erase it. */
  #typing = false;

  /**
   * @param {NumberField} field
   * @param {string} path
   * @param {string} id
   */
  static of(field, path, id) {
    const element = new LabNumber();
    element.#field = field;
    element.#scale = scaleOf(field);
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
    const scale = this.#scale;
    if (!field || !scale) return;
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
    const slider = h("input", {
      type: "range",
      min: String(scale.min),
      max: String(scale.max),
      step: String(scale.step),
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
    const scale = this.#scale;
    const svg = s("svg", {
      class: "published",
      viewBox: "0 0 100 4",
      preserveAspectRatio: "none",
      "aria-hidden": "true",
    });
    if (field?.published && scale) {
      const { min, max, positionOf } = scale;
      const [from, to] = field.published;
      const x = (100 * (positionOf(from) - min)) / (max - min);
      const end = (100 * (positionOf(to) - min)) / (max - min);
      svg.append(s("rect", { x, y: 1, width: end - x, height: 2 }));
    }
    return svg;
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    const [text, slider] = this.#inputs();
    if (!text || !slider) return;
    slider.addEventListener("input", () => this.#move(slider.valueAsNumber), {
      signal,
    });
    text.addEventListener("input", () => (this.#typing = true), { signal });
    text.addEventListener("blur", () => (this.#typing = false), { signal });
    text.addEventListener("change", () => this.#commit(text.value), { signal });
    text.addEventListener(
      "keydown",
      (event) => {
        const steps = { ArrowUp: 1, ArrowDown: -1, PageUp: 10, PageDown: -10 };
        const by = Object.entries(steps).find(([key]) => key === event.key)?.[1];
        if (by === undefined || !this.#view || !this.#field) return;
        event.preventDefault();
        const { positionOf, step } = this.#scale ?? scaleOf(this.#field);
        this.#move(positionOf(this.#view.value) + by * step);
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
    if (changed) {
      this.#unread = false;
      this.#typing = false;
    }
    this.#view = view;
    const shown = editable(view.value);
    if (!this.#unread && !this.#typing && text.value !== shown) text.value = shown;
    const position = String(this.#scale?.positionOf(view.value) ?? 0);
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
    this.#typing = false;
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

  /** @param {number} position */
  #move(position) {
    if (this.#scale) this.#send(this.#scale.valueAt(position));
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
}
