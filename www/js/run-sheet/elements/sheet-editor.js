import { LabChoice } from "../../elements/lab-choice.js";
import { LabElement } from "../../elements/lab-element.js";
import { LabNumber } from "../../elements/lab-number.js";
import { h, rebuild, send } from "../../dom.js";
import { isOptional } from "../fields.js";
import { beginning, focusAfter, listOf, stampOf, tellErrors } from "./editor-list.js";

/** @typedef {import("../fields.js").StepField} StepField */
/**
 * @typedef {{ key: string, operation: string, fields: StepField[],
 *   lists: import("../lists.js").ListField[], parts: import("../lists.js").PartField[], errors: Readonly<Record<string, string>>, note: string }} EditorView
 */

/**
 * The parameters of the step in view, with the controls of the benches. The fields send
 * `lab:set-field`; this one sends `lab:leave-out` for a field whose default is to hold,
 * `lab:give-field` for one of a list that has none yet, `lab:list` for rows, `lab:part` for an
 * object and `lab:note`.
 */
export class SheetEditor extends LabElement {
  /** @type {Map<string, LabNumber | LabChoice>} */
  #fields = new Map();
  /** What was done to a list: the focus goes with it once it is rendered. */
  /** @type {{ name: string, path: string, at: number } | null} */
  #done = null;

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
        const { leaveOut, give, part, act, path = "", at = "0" } = button?.dataset ?? {};
        const name = leaveOut ? "leave" : give ? "give" : part ? "part" : "";
        if (name !== "") this.#done = { name, path: leaveOut ?? give ?? part ?? "", at: 0 };
        if (leaveOut) send(this, "leave-out", { path: leaveOut });
        else if (give) send(this, "give-field", { path: give });
        else if (part) send(this, "part", { path: part });
        else if (act && button?.getAttribute("aria-disabled") !== "true") {
          this.#done = { name: act, path, at: Number(at) };
          send(this, "list", { path, act, at: Number(at) });
        }
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
    const stamp = [
      view.key,
      ...view.fields.map((f) => `${f.path}${f.given}`),
      ...view.lists.map(stampOf),
      ...view.parts.map((part) => `${part.path}${part.given}`),
    ].join("|");
    const begun = view.lists.filter(({ rows }) => rows.length > 0);
    const wholes = view.parts.filter((part) => part.given);
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
        ...view.lists.filter((list) => !begun.includes(list)).map(beginning),
        ...view.parts
          .filter((part) => !wholes.includes(part))
          .map(({ path, label }) =>
            h("button", { type: "button", "data-part": path }, `Add: ${label.toLowerCase()}`),
          ),
      );
      more.open = folded;
      const isPart = (/** @type {StepField} */ field) =>
        wholes.some(({ path }) => field.path.startsWith(`${path}.`));
      return [
        ...given.filter((field) => !isPart(field)).map((field) => this.#field(view, field)),
        ...begun.map((list) => listOf(list, (field) => this.#field(view, field))),
        ...wholes.map((part) =>
          this.#part(
            part,
            given.filter(({ path }) => path.startsWith(`${part.path}.`)),
            view,
          ),
        ),
        ...(more.children.length > 1 ? [more] : []),
      ];
    });
    if (this.#done) focusAfter(place, this.#done);
    this.#done = null;
    tellErrors(place, view.errors);
    // A field that moves from the folded ones to the given ones keeps the focus.
    if (inside && focused !== "" && document.activeElement?.id !== focused) {
      document.getElementById(focused)?.focus();
    }
    for (const { path, value } of [...view.fields, ...view.lists.flatMap((l) => l.rows.flat())]) {
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
   * The fields of an object that is left out as a whole.
   * @param {import("../lists.js").PartField} part
   * @param {StepField[]} fields
   * @param {EditorView} view
   */
  #part({ path, label }, fields, view) {
    return h(
      "fieldset",
      { class: "list-field" },
      h("legend", {}, label),
      ...fields.map((field) => this.#field(view, field)),
      h(
        "button",
        { type: "button", "data-leave-out": path, "aria-label": `Leave out: ${label}` },
        "Leave out",
      ),
    );
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
    if (!field.given || path.includes("[") || !isOptional(view.operation, field)) return element;
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
