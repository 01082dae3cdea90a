/** The table of constants: what the kernel computes with, and where it is from. */

import { h, setText } from "../dom.js";
import { plain } from "../format.js";
import { benchOf } from "../benches.js";

/** @typedef {import("./types.js").Constant} Constant */

const HEADS = ["Constant", "Value", "Unit", "Holds for", "Source", "Known by"];

export class ConstantsTable {
  /** @type {Map<Constant, HTMLTableRowElement>} */
  #rows = new Map();
  #caption = h("caption", {});
  #body = h("tbody", { role: "rowgroup" });

  /** @param {readonly Constant[]} constants */
  constructor(constants) {
    for (const constant of constants) {
      const { bench, name, value, unit, validity, source, known_by } = constant;
      const where = bench === "" ? "Everywhere" : benchOf(bench).name;
      const cells = [plain(value), unit, validity, source, known_by].map((text, k) =>
        h("td", { role: "cell", "data-head": HEADS[k + 1] ?? "" }, text),
      );
      const head = h("th", { scope: "row", role: "rowheader" }, name, h("small", {}, where));
      const row = h("tr", { role: "row" }, head, ...cells);
      this.#rows.set(constant, row);
      this.#body.append(row);
    }
  }

  build() {
    const heads = HEADS.map((text) => h("th", { scope: "col", role: "columnheader" }, text));
    return h(
      "table",
      { class: "listed constants", role: "table" },
      this.#caption,
      h("thead", { role: "rowgroup" }, h("tr", { role: "row" }, ...heads)),
      this.#body,
    );
  }

  /** @param {(constant: Constant) => boolean} passes */
  show(passes) {
    let count = 0;
    for (const [constant, row] of this.#rows) {
      row.hidden = !passes(constant);
      if (!row.hidden) count += 1;
    }
    setText(this.#caption, `Constants: ${count} of ${this.#rows.size} shown`);
  }
}
