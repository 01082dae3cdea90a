import { formOf } from "../forms.js";
import { h, rebuild, send } from "../dom.js";
import { PRESETS } from "../presets.js";
import { chosen } from "../request.js";
import { describe } from "../schema.js";
import { LabChoice } from "./lab-choice.js";
import { LabElement } from "./lab-element.js";
import { LabNumber } from "./lab-number.js";
import { LabText } from "./lab-text.js";

/** @typedef {import("../types.js").Settings} Settings */
/** @typedef {import("../types.js").Mode} Mode */
/** @typedef {import("../types.js").Condition} Condition */
/**
 * @typedef {{ operation: string, operations: string[],
 *   schema: readonly import("../types.js").OperationSchema[], settings: Settings,
 *   errors: Readonly<Record<string, string>> }} SettingsView
 */

/** A mode with more options than this is a list to choose from. */
const MOST_RADIOS = 6;

/**
 * The form of one operation. Sends `lab:set-field`, `lab:preset`, `lab:reset` and `lab:operation`;
 * shows what `render` is given. The markup of an operation is built once, so focus and caret stay.
 */
export class LabSettings extends LabElement {
  /** @type {{ path: string, element: LabNumber | LabChoice | LabText }[]} */
  #fields = [];
  /** @type {{ mode: Mode, element: HTMLElement }[]} */
  #modes = [];
  /** @type {{ condition: Condition, element: HTMLElement }[]} */
  #conditions = [];

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener(
      "click",
      (event) => {
        const button = event.target instanceof Element ? event.target.closest("button") : null;
        if (!button) return;
        const preset = button.dataset["preset"];
        if (preset !== undefined) send(this, "preset", { index: Number(preset) });
        else if (button.dataset["verb"] === "reset") send(this, "reset");
      },
      { signal },
    );
    this.addEventListener(
      "change",
      (event) => {
        const input = event.target;
        const isRadio = input instanceof HTMLInputElement && input.type === "radio";
        if (!isRadio && !(input instanceof HTMLSelectElement)) return;
        const path = input.dataset["mode"];
        if (path === undefined) return;
        if (path === "operation") send(this, "operation", { operation: input.value });
        else send(this, "set-field", { path, value: input.value });
      },
      { signal },
    );
  }

  /** @param {SettingsView} view */
  render(view) {
    rebuild(this, view.operation, () => this.#form(view));
    for (const { mode, element } of this.#modes) {
      const word = chosen(mode, view.settings).word;
      for (const input of element.querySelectorAll("input")) {
        if (input.dataset["mode"] === mode.mode) input.checked = input.value === word;
      }
      const list = element.querySelector("select[data-mode]");
      if (list instanceof HTMLSelectElement && list.value !== word) list.value = word;
      for (const part of element.querySelectorAll(":scope > .mode-fields")) {
        if (part instanceof HTMLElement) part.hidden = part.dataset["word"] !== word;
      }
    }
    for (const { condition, element } of this.#conditions) {
      element.hidden = view.settings[condition.when] !== condition.is;
    }
    for (const { path, element } of this.#fields) {
      const value = view.settings[path] ?? element.fallback;
      const error = view.errors[path] ?? "";
      if (element instanceof LabNumber) element.render({ value: Number(value), error });
      else element.render({ value: String(value), error });
    }
  }

  /** @param {SettingsView} view */
  #form(view) {
    this.#fields = [];
    this.#modes = [];
    this.#conditions = [];
    const form = formOf(view.operation);
    /** @type {HTMLElement[]} */
    const nodes = [h("h3", {}, "Settings")];
    if (view.operations.length > 1) nodes.push(this.#switch(view));
    nodes.push(this.#presets(view.operation));
    for (const group of form.groups) {
      const items = group.items
        .map((item) => {
          if (typeof item === "string") return this.#field(view, item, "");
          return "mode" in item ? this.#mode(view, item) : this.#condition(view, item);
        })
        .filter((node) => node !== null);
      if (items.length === 0) continue;
      if (group.folded) {
        nodes.push(h("details", { class: "group" }, h("summary", {}, group.title), ...items));
      } else {
        nodes.push(h("fieldset", { class: "group" }, h("legend", {}, group.title), ...items));
      }
    }
    nodes.push(
      h(
        "p",
        { class: "buttons" },
        h("button", { type: "button", "data-verb": "reset" }, "Reset settings"),
      ),
    );
    return nodes;
  }

  /** @param {SettingsView} view */
  #switch(view) {
    const radios = view.operations.map((operation) =>
      radio("operation", operation, formOf(operation).label, operation === view.operation),
    );
    return h(
      "fieldset",
      { class: "mode operation" },
      h("legend", {}, "Step"),
      h("div", { class: "radios" }, ...radios),
    );
  }

  /** @param {string} operation */
  #presets(operation) {
    const buttons = (PRESETS[operation] ?? []).map((preset, k) =>
      h(
        "li",
        {},
        h(
          "button",
          { type: "button", class: "preset", "data-preset": String(k) },
          h("span", {}, preset.name),
          h("small", {}, preset.note),
        ),
      ),
    );
    return h(
      "details",
      { class: "group presets" },
      h("summary", {}, "Presets: gauge chip"),
      h(
        "p",
        { class: "soft" },
        "Steps of the river-gauge chip, made in the teaching cleanroom of Tarn Vale College.",
      ),
      h("ul", {}, ...buttons),
    );
  }

  /**
   * @param {SettingsView} view
   * @param {string} path
   * @param {string} within
   */
  #field(view, path, within) {
    const settings = within === "" ? view.settings : { ...view.settings, ...modeOf(within) };
    const text = formOf(view.operation).texts?.[path] ?? null;
    const field = text ? null : describe(view.schema, view.operation, path, settings);
    if (!field && !text) return null;
    const id =
      `${view.operation}-${path}${within === "" ? "" : `-${within.replace("=", "-")}`}`.replace(
        /[[\].]/g,
        "-",
      );
    const element = text
      ? LabText.of(text, path, id)
      : field?.number
        ? LabNumber.of(field.number, path, id)
        : field?.choice
          ? LabChoice.of(field.choice, path, id)
          : null;
    if (element) this.#fields.push({ path, element });
    return element;
  }

  /**
   * @param {SettingsView} view
   * @param {Condition} condition
   */
  #condition(view, condition) {
    const fields = condition.fields
      .map((path) => this.#field(view, path, ""))
      .filter((node) => node !== null);
    if (fields.length === 0) return null;
    const element = h("div", { class: "mode-fields" }, ...fields);
    this.#conditions.push({ condition, element });
    return element;
  }

  /**
   * @param {SettingsView} view
   * @param {Mode} mode
   */
  #mode(view, mode) {
    const options = mode.options
      .map((option) => ({
        option,
        fields: option.fields
          .map((path) => this.#field(view, path, `${mode.mode}=${option.word}`))
          .filter((node) => node !== null),
      }))
      .filter(({ option, fields }) => option.fields.length === 0 || fields.length > 0);
    if (options.length < 2) return null;
    const list =
      options.length > MOST_RADIOS
        ? h(
            "select",
            { "data-mode": mode.mode, "aria-label": mode.label },
            ...options.map(({ option }) => h("option", { value: option.word }, option.label)),
          )
        : h(
            "div",
            { class: "radios" },
            ...options.map(({ option }) => radio(mode.mode, option.word, option.label, false)),
          );
    const parts = options
      .filter(({ fields }) => fields.length > 0)
      .map(({ option, fields }) =>
        h("div", { class: "mode-fields", "data-word": option.word }, ...fields),
      );
    const element = h("fieldset", { class: "mode" }, h("legend", {}, mode.label), list, ...parts);
    this.#modes.push({ mode, element });
    return element;
  }
}

/** @param {string} within */
function modeOf(within) {
  const [mode = "", word = ""] = within.split("=");
  return { [mode]: word };
}

/**
 * @param {string} mode
 * @param {string} word
 * @param {string} label
 * @param {boolean} checked
 */
function radio(mode, word, label, checked) {
  const input = h("input", { type: "radio", name: `mode-${mode}`, value: word, "data-mode": mode });
  input.checked = checked;
  return h("label", { class: "radio" }, input, h("span", {}, label));
}
