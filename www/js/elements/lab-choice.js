import { h, send } from "../dom.js";
import { LabElement } from "./lab-element.js";

/** @typedef {import("../types.js").ChoiceField} ChoiceField */

/** A list of words to choose one from. Sends `lab:set-field`. */
export class LabChoice extends LabElement {
  /** @type {ChoiceField | null} */
  #field = null;
  #path = "";
  #id = "";

  /**
   * @param {ChoiceField} field
   * @param {string} path
   * @param {string} id
   */
  static of(field, path, id) {
    const element = new LabChoice();
    element.#field = field;
    element.#path = path;
    element.#id = id;
    element.dataset["field"] = path;
    return element;
  }

  /** What the kernel takes if nothing is sent. */
  get fallback() {
    return this.#field?.default ?? this.#field?.values[0]?.[0] ?? "";
  }

  build() {
    const field = this.#field;
    if (!field) return;
    const options = field.values.map(([word, label]) => h("option", { value: word }, label));
    this.append(
      h("label", { for: this.#id }, field.label),
      h("select", { id: this.#id, "aria-describedby": `${this.#id}-error` }, ...options),
      h("p", { id: `${this.#id}-error`, class: "field-error", hidden: "" }),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    const select = this.querySelector("select");
    select?.addEventListener(
      "change",
      () => send(this, "set-field", { path: this.#path, value: select.value }),
      { signal },
    );
  }

  /** @param {{ value: string, error: string }} view */
  render(view) {
    const select = this.querySelector("select");
    if (!select) return;
    if (select.value !== view.value) select.value = view.value;
    select.setAttribute("aria-invalid", String(view.error !== ""));
    const message = this.querySelector(".field-error");
    if (message && message.textContent !== view.error) message.textContent = view.error;
    message?.toggleAttribute("hidden", view.error === "");
  }
}
