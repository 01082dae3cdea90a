import { h, send } from "../dom.js";
import { LabElement } from "./lab-element.js";

/** @typedef {import("../types.js").TextField} TextField */

/** Lines of text to be pasted, such as a table. Sends `lab:set-field`. */
export class LabText extends LabElement {
  /** @type {TextField} */
  #field = { label: "", help: "" };
  #path = "";
  #id = "";

  /**
   * @param {TextField} field
   * @param {string} path
   * @param {string} id
   */
  static of(field, path, id) {
    const element = new LabText();
    element.#field = field;
    element.#path = path;
    element.#id = id;
    element.dataset["field"] = path;
    return element;
  }

  /** What stands there if nothing was pasted. */
  get fallback() {
    return "";
  }

  build() {
    const id = this.#id;
    this.append(
      h("label", { for: id }, this.#field.label),
      h("textarea", {
        id,
        rows: "8",
        spellcheck: "false",
        autocapitalize: "off",
        "aria-describedby": `${id}-help ${id}-error`,
      }),
      h("p", { id: `${id}-help`, class: "soft" }, this.#field.help),
      h("p", { id: `${id}-error`, class: "field-error", hidden: "" }),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    const area = this.querySelector("textarea");
    area?.addEventListener(
      "input",
      () => send(this, "set-field", { path: this.#path, value: area.value }),
      { signal },
    );
  }

  /** @param {{ value: string, error: string }} view */
  render(view) {
    const area = this.querySelector("textarea");
    if (!area) return;
    if (area.value !== view.value) area.value = view.value;
    area.setAttribute("aria-invalid", String(view.error !== ""));
    const message = this.querySelector(".field-error");
    if (message && message.textContent !== view.error) message.textContent = view.error;
    message?.toggleAttribute("hidden", view.error === "");
  }
}
