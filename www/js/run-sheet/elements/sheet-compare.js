import { LabElement } from "../../elements/lab-element.js";
import { h, rebuild, send } from "../../dom.js";
import { quantity } from "../../format.js";

/** @typedef {import("../compare/rows.js").Row} Row */
/** @typedef {import("../compare/settings.js").Changed} Changed */
/**
 * @typedef {{ step: number, ready: boolean, largest: Row[], results: Row[], x: number | null,
 *   here: Row[], finished: { rows: Row[], alike: number } | null,
 *   settings: Changed[] }} CompareView
 */

/**
 * Two runs in numbers: what differs at the step in view, on the finished wafers, and in the
 * settings. Sends `lab:plumb` to a place and `lab:go` to a step.
 */
export class SheetCompare extends LabElement {
  build() {
    this.append(
      h("h3", {}, "A and B"),
      h("div", { class: "compare-settings" }),
      h("div", { class: "compare-step" }),
      h("div", { class: "compare-finished" }),
      h("p", { class: "soft" }, "Values that read alike to three digits are left out."),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener(
      "click",
      (event) => {
        const button = event.target instanceof Element ? event.target.closest("button") : null;
        const { x, step } = button?.dataset ?? {};
        if (x !== undefined) send(this, "plumb", { x: Number(x) });
        else if (step !== undefined) send(this, "go", { step: Number(step) });
      },
      { signal },
    );
  }

  /** @param {CompareView} view */
  render({ step, ready, largest, results, x, here, finished, settings }) {
    this.#part(".compare-settings", settings, () =>
      settings.length === 0
        ? [h("h4", {}, "Settings"), h("p", {}, "A and B are the same flow.")]
        : [settingsTable(settings)],
    );
    const place = x === null ? "Under the plumb line" : `Under the plumb line, x = ${um(x)}`;
    /** @type {[string, Row[]][]} */
    const groups = [
      ["Largest differences along the section", largest],
      [place, here],
      ["Results of the step", results],
    ];
    const rows = largest.length + here.length + results.length;
    this.#part(".compare-step", [step, ready, groups], () => {
      const title = `After step ${step}`;
      if (!ready) return [h("h4", {}, title), h("p", {}, "Waiting for A to be computed …")];
      if (rows === 0) return [h("h4", {}, title), h("p", {}, "Nothing differs yet.")];
      return [rowsTable(title, groups)];
    });
    this.#part(".compare-finished", finished, () => {
      const title = "On the finished wafers";
      if (!finished) return [h("h4", {}, title), h("p", {}, "Waiting for both runs to end …")];
      const alike = `${finished.alike} ${finished.alike === 1 ? "measurement reads" : "measurements read"} alike.`;
      if (finished.rows.length === 0) return [h("h4", {}, title), h("p", {}, `All ${alike}`)];
      return [rowsTable(title, [["", finished.rows]]), h("p", { class: "soft" }, alike)];
    });
  }

  /**
   * @param {string} selector
   * @param {unknown} stamp
   * @param {() => Node[]} build
   */
  #part(selector, stamp, build) {
    const place = this.querySelector(selector);
    if (place instanceof HTMLElement) rebuild(place, JSON.stringify(stamp), build);
  }
}

/** @param {number} x */
function um(x) {
  return quantity(x, "µm", 4);
}

/**
 * @param {string} title
 * @param {[string, Row[]][]} groups
 */
function rowsTable(title, groups) {
  const heads = ["Quantity", "A", "B", "B − A"];
  return table(
    title,
    heads,
    groups.map(([name, rows]) => [
      ...(name === "" || rows.length === 0
        ? []
        : [h("tr", {}, h("th", { scope: "rowgroup", colspan: "4", class: "group-name" }, name))]),
      ...rows.map((row) =>
        h(
          "tr",
          {},
          h("th", { scope: "row" }, row.quantity, ...whereOf(row)),
          h("td", {}, row.a),
          h("td", {}, row.b),
          h("td", { class: "difference" }, row.difference),
        ),
      ),
    ]),
    "compare-rows",
  );
}

/** @param {Row} row */
function whereOf({ where, x }) {
  if (x !== null) {
    return [" ", h("button", { type: "button", "data-x": String(x) }, `at x = ${um(x)}`)];
  }
  return where === "" ? [] : [" ", h("span", { class: "soft" }, where)];
}

/** @param {Changed[]} settings */
function settingsTable(settings) {
  return table(
    "Settings that differ",
    ["Step", "Setting", "A", "B"],
    [
      settings.map(({ step, place, setting, a, b }) =>
        h(
          "tr",
          {},
          h(
            "th",
            { scope: "row" },
            step < 0 ? place : h("button", { type: "button", "data-step": String(step) }, place),
          ),
          h("td", {}, setting),
          h("td", {}, a),
          h("td", {}, b),
        ),
      ),
    ],
  );
}

/**
 * @param {string} title
 * @param {string[]} heads
 * @param {HTMLElement[][]} bodies
 * @param {string} [kind]
 */
function table(title, heads, bodies, kind = "") {
  return h(
    "div",
    {
      class: "table-region",
      tabindex: "0",
      role: "group",
      "aria-label": title,
    },
    h(
      "table",
      { class: `compare-table ${kind}` },
      h("caption", {}, title),
      h("thead", {}, h("tr", {}, ...heads.map((head) => h("th", { scope: "col" }, head)))),
      ...bodies.filter((rows) => rows.length > 0).map((rows) => h("tbody", {}, ...rows)),
    ),
  );
}
