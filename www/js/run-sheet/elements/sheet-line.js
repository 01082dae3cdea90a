import { LabElement } from "../../elements/lab-element.js";
import { h, rebuild, send, setText } from "../../dom.js";
import { sentence } from "../../format.js";
import { LINE_PARTS } from "../layout/drawing.js";
import { fill, tell } from "./sheet-mask.js";

/**
 * @typedef {{ line: import("../layout/drawing.js").Line, grid: number,
 *   breaks: readonly { message: string }[], errors: Readonly<Record<string, string>> }} LineView
 */

/** @type {Readonly<Record<string, string>>} */
const NAMES = {
  "from-x": "from x",
  "from-y": "from y",
  "to-x": "to x",
  "to-y": "to y",
};

/**
 * The numbers of the section line, the grid, and the design rules that the layout breaks. Sends
 * `lab:line-number` and `lab:layout-grid`.
 */
export class SheetLine extends LabElement {
  build() {
    /** @type {(id: string, label: string, described: string) => HTMLElement} */
    const field = (id, label, described) =>
      h(
        "label",
        { for: id },
        `${label} (µm)`,
        h("input", {
          id,
          type: "text",
          inputmode: "decimal",
          autocomplete: "off",
          "aria-describedby": described,
        }),
      );
    this.append(
      h(
        "p",
        { id: "layout-keys", class: "soft" },
        "A handle is dragged, or moved by the arrow keys when it has the focus: by a step of the grid, with Shift by ten.",
      ),
      h(
        "fieldset",
        { class: "line" },
        h("legend", {}, "Section line A–A′"),
        h(
          "div",
          { class: "box" },
          ...LINE_PARTS.map((part) => field(`line-${part}`, NAMES[part] ?? part, "line-error")),
        ),
        h("p", { id: "line-error", class: "field-error", hidden: "" }),
      ),
      h(
        "div",
        { class: "grid-field" },
        field("grid", "Grid", "grid-error"),
        h("p", { id: "grid-error", class: "field-error", hidden: "" }),
      ),
      h("div", { class: "rules" }, h("h4", {}, "Design rules"), h("ul", {}), h("p", {})),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener(
      "change",
      ({ target }) => {
        if (!(target instanceof HTMLInputElement)) return;
        const text = target.value;
        if (target.id === "grid") send(this, "layout-grid", { text });
        else
          send(this, "line-number", {
            part: target.id.replace("line-", ""),
            text,
          });
      },
      { signal },
    );
  }

  /** @param {LineView} view */
  render({ line, grid, breaks, errors }) {
    const values = [...line.from, ...line.to];
    LINE_PARTS.forEach((part, k) => {
      const id = `line-${part}`;
      fill(this, id, values[k] ?? NaN, errors[id] ?? "");
    });
    const wrong = LINE_PARTS.map((part) => errors[`line-${part}`] ?? "").find((e) => e !== "");
    tell(this, "line", wrong ?? "");
    fill(this, "grid", grid, errors["grid"] ?? "");
    const list = this.querySelector("ul");
    if (list) {
      rebuild(list, JSON.stringify(breaks), () =>
        breaks.map(({ message }) => h("li", {}, sentence(message))),
      );
    }
    setText(
      this.querySelector(".rules p"),
      breaks.length === 0 ? "The layout keeps every rule that is checked." : "",
    );
  }
}
