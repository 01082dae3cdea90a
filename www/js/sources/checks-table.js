/** The table of published values: one row a check, filled in as the kernel answers. */

import { h, setText } from "../dom.js";
import { significant, sentence } from "../format.js";
import { benchOf } from "../benches.js";

/** @typedef {import("./types.js").Check} Check */
/** @typedef {import("./types.js").Outcome} Outcome */

/** A sign and a word for each verdict, so that color is never all. */
const VERDICTS = {
  met: ["✓", "met"],
  known_deviation: ["≈", "known deviation"],
  off: ["✗", "off"],
  deviation_gone: ["✗", "deviates no longer"],
  error: ["✗", "no value"],
};

const HEADS = ["Quantity", "Published", "Ours", "Deviation", "Tolerance", "Result", "Source"];

/**
 * A cell of the table; on a narrow screen its head stands before it.
 * @param {string} head
 * @param {(Node | string)[]} children
 */
function cell(head, ...children) {
  return h("td", { role: "cell", "data-head": head }, ...children);
}

/**
 * A value with its unit, or a color with a patch of it.
 * @param {number | string | null} value
 * @param {string} unit
 */
function value(value, unit) {
  if (typeof value === "string") {
    const patch = h("span", { class: "swatch", "aria-hidden": "true" });
    patch.style.background = value;
    return [patch, value];
  }
  if (value === null) return ["–"];
  return [unit === "" ? significant(value, 4) : `${significant(value, 4)}\u00a0${spelled(unit)}`];
}

/** @param {string} unit */
function spelled(unit) {
  return unit
    .replace(/\bum2\b/, "µm²")
    .replace(/\bum\b/, "µm")
    .replace("cm2/s", "cm²/s")
    .replace("cm-3", "cm⁻³")
    .replace("cm-2", "cm⁻²")
    .replace("ohm", "Ω");
}

/**
 * @param {Check} check
 * @param {number} amount
 * @param {boolean} signed
 */
function away(check, amount, signed) {
  const sign = signed && amount > 0 ? "+" : "";
  if (check.allowed === "relative") {
    const percent = 100 * amount;
    // A deviation far below what is allowed needs no digits.
    const text = signed && Math.abs(percent) < 0.005 ? "0.00" : significant(percent, 2);
    return `${text === "0.00" ? "" : sign}${text}\u202f%`;
  }
  if (check.allowed === "channel") return `${sign}${significant(amount, 2)} of 255`;
  return `${sign}${significant(amount, 2)}${check.unit === "" ? "" : `\u00a0${spelled(check.unit)}`}`;
}

export class ChecksTable {
  #body = h("tbody", { role: "rowgroup" });
  /** @type {Map<Check, HTMLTableRowElement>} */
  #rows = new Map();
  #caption = h("caption", {});

  /** @param {readonly Check[]} checks */
  constructor(checks) {
    for (const check of checks) {
      const row = h(
        "tr",
        { role: "row", "data-id": check.id, "data-verdict": "" },
        h(
          "th",
          { scope: "row", role: "rowheader" },
          h("span", { class: "what" }, sentence(check.what).replace(/\.$/, "")),
          h("small", {}, `${benchOf(check.bench).name}: ${check.conditions}`),
        ),
        cell("Published", ...value(check.expected, check.unit)),
        cell("Ours", "…"),
        cell("Deviation", "…"),
        cell("Tolerance", away(check, check.tolerance, false)),
        cell("Result", h("span", { class: "verdict" }, "waiting")),
        cell("Source", check.source, h("small", {}, `Known by: ${check.known_by}. ${check.id}.`)),
      );
      for (const note of [check.note, check.known_deviation]) {
        if (note !== "") row.lastElementChild?.append(h("small", {}, sentence(note)));
      }
      this.#rows.set(check, row);
      this.#body.append(row);
    }
  }

  /** The table itself, to be put into the page once. */
  build() {
    const heads = HEADS.map((text) => h("th", { scope: "col", role: "columnheader" }, text));
    return h(
      "table",
      { class: "listed checks", role: "table" },
      this.#caption,
      h("thead", { role: "rowgroup" }, h("tr", { role: "row" }, ...heads)),
      this.#body,
    );
  }

  /**
   * Fills in what the kernel said.
   * @param {Check} check
   * @param {Outcome} outcome
   */
  fill(check, outcome) {
    const row = this.#rows.get(check);
    if (!row) return;
    row.dataset["verdict"] = outcome.verdict;
    const [, ours, deviation, , result] = [...row.querySelectorAll("td")];
    ours?.replaceChildren(...value(outcome.ours, check.unit));
    setText(deviation, outcome.deviation === null ? "–" : away(check, outcome.deviation, true));
    const [sign, word] = VERDICTS[outcome.verdict];
    const parts = [h("span", { class: "verdict" }, `${sign} ${word}`)];
    if (outcome.error !== "") parts.push(h("small", {}, sentence(outcome.error)));
    if (outcome.link !== "") {
      const { name } = benchOf(check.bench);
      const link = h("a", { href: `./${outcome.link}` }, "Open in the bench");
      link.setAttribute("aria-label", `Open in the bench ${name}: ${check.what}, ${check.id}`);
      parts.push(link);
    }
    result?.replaceChildren(...parts);
  }

  /**
   * Shows the rows that pass; gives how many do.
   * @param {(check: Check) => boolean} passes
   */
  show(passes) {
    let count = 0;
    for (const [check, row] of this.#rows) {
      row.hidden = !passes(check);
      if (!row.hidden) count += 1;
    }
    setText(this.#caption, `Published values: ${count} of ${this.#rows.size} shown`);
    return count;
  }
}
