import { LabChoice } from "../../elements/lab-choice.js";
import { LabElement } from "../../elements/lab-element.js";
import { LabNumber } from "../../elements/lab-number.js";
import { h, rebuild, send } from "../../dom.js";
import { isOptional } from "../fields.js";

/** @typedef {import("../fields.js").StepField} StepField */
/**
 * @typedef {{ key: string, operation: string, fields: StepField[],
 *   errors: Readonly<Record<string, string>>, note: string }} EditorView
 */

/**
 * The parameters of the step in view, with the controls of the benches. The fields send
 * `lab:set-field`; this one sends `lab:leave-out` for a field whose default is to hold, and
 * `lab:note`.
 */
export class SheetEditor extends LabElement {
  /** @type {Map<string, LabNumber | LabChoice>} */
  #fields = new Map();

  build() {
    this.append(
      h("h3", {}, "Settings of the step"),
      h("div", { class: "editor-fields" }),
      h(
        "p",
        { class: "note-field" },
        h("label", { for: "note" }, "Note"),
        h("textarea", { id: "note", rows: "2", maxlength: "500" }),
      ),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener(
      "click",
      (event) => {
        const button = event.target instanceof Element ? event.target.closest("button") : null;
        const path = button?.dataset["leaveOut"];
        if (path) send(this, "leave-out", { path });
      },
      { signal },
    );
    this.querySelector("#note")?.addEventListener(
      "change",
      (event) => {
        if (event.target instanceof HTMLTextAreaElement) {
          send(this, "note", { text: event.target.value.trim() });
        }
      },
      { signal },
    );
  }

  /** @param {EditorView} view */
  render(view) {
    const place = this.querySelector(".editor-fields");
    if (!(place instanceof HTMLElement)) return;
    const given = view.fields.filter((field) => field.given);
    const others = view.fields.filter((field) => !field.given);
    const stamp = [view.key, ...view.fields.map((f) => `${f.path}${f.given}`)].join("|");
    const folded = place.querySelector("details")?.open ?? false;
    const focused = document.activeElement?.id ?? "";
    const inside = place.contains(document.activeElement);
    rebuild(place, stamp, () => {
      this.#fields.clear();
      const more = h(
        "details",
        { class: "group" },
        h("summary", {}, "More fields, as the model has them"),
        ...others.map((field) => this.#field(view, field)),
      );
      more.open = folded;
      return [
        ...given.map((field) => this.#field(view, field)),
        ...(others.length > 0 ? [more] : []),
      ];
    });
    // A field that moves from the folded ones to the given ones keeps the focus.
    if (inside && focused !== "" && document.activeElement?.id !== focused) {
      document.getElementById(focused)?.focus();
    }
    for (const { path, value } of view.fields) {
      const element = this.#fields.get(path);
      const error = view.errors[path] ?? "";
      if (element instanceof LabNumber) {
        element.render({ value: Number(value ?? element.fallback), error });
      } else element?.render({ value: String(value ?? element.fallback), error });
    }
    const note = this.querySelector("#note");
    if (note instanceof HTMLTextAreaElement && document.activeElement !== note) {
      note.value = view.note;
    }
  }

  /**
   * @param {EditorView} view
   * @param {StepField} field
   * @returns {HTMLElement}
   */
  #field(view, field) {
    const { path, number, choice } = field;
    const id = `step-${path.replace(/[[\].]/g, "-")}`;
    const element = number
      ? LabNumber.of(number, path, id)
      : LabChoice.of(choice ?? { field: path, label: path, values: [], default: null }, path, id);
    this.#fields.set(path, element);
    if (!field.given || !isOptional(view.operation, field)) return element;
    const label = (number ?? choice)?.label ?? path;
    return h(
      "div",
      { class: "given-field" },
      element,
      h(
        "button",
        { type: "button", "data-leave-out": path, "aria-label": `Leave out: ${label}` },
        "Leave out",
      ),
    );
  }
}
