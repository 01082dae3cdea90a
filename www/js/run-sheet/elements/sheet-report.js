import { LabElement } from "../../elements/lab-element.js";
import { h, rebuild, send, setText } from "../../dom.js";
import { sentence } from "../../format.js";
import { nameAndUnit, resultRows, valueWords } from "../words.js";

/**
 * @typedef {{ purpose: string, report: import("../types.js").StepReport | null,
 *   changed: import("../types.js").Difference[] | null,
 *   earlier: import("../types.js").Difference[] | null, sentences: string[],
 *   summary: import("../types.js").Summary | null, last: boolean,
 *   refusal: import("../types.js").RequestError | null,
 *   bench: { address: string, carries: string } }} ReportView
 */

/** What the step did. Sends `lab:plumb` to a place that a warning names. */
export class SheetReport extends LabElement {
  build() {
    this.append(
      h("h3", {}, "Report of the step"),
      h("p", { class: "purpose" }),
      h("div", { class: "refused" }),
      h("ul", { class: "warnings" }),
      h("dl", { class: "results" }),
      h("div", { class: "changed" }),
      h("div", { class: "earlier" }),
      h("p", { class: "to-bench" }),
      h(
        "details",
        { class: "group" },
        h("summary", {}, "The section in sentences"),
        h("ul", { class: "sentences" }),
      ),
      h("div", { class: "measured" }),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener(
      "click",
      (event) => {
        const button = event.target instanceof Element ? event.target.closest("button") : null;
        const x = button?.dataset["x"];
        if (x !== undefined) send(this, "plumb", { x: Number(x) });
      },
      { signal },
    );
  }

  /** @param {ReportView} view */
  render(view) {
    const { report } = view;
    setText(this.querySelector(".purpose"), view.purpose);
    this.#part(".refused", JSON.stringify(view.refusal), () =>
      view.refusal
        ? [
            h(
              "p",
              { class: "card wrong" },
              `${sentence(view.refusal.message)} ${sentence(view.refusal.hint)}`,
            ),
          ]
        : [],
    );
    this.#part(".warnings", JSON.stringify(report?.warnings ?? []), () =>
      (report?.warnings ?? []).map(warning),
    );
    this.#part(".results", JSON.stringify(report?.results ?? {}), () =>
      resultRows(report?.results ?? {}).map(([name, words]) =>
        h("div", {}, h("dt", {}, name), h("dd", {}, words)),
      ),
    );
    this.#differences(".changed", "Changed since the step before", view.changed);
    this.#differences(".earlier", "Changed since the run before your last change", view.earlier);
    const { address, carries } = view.bench;
    this.#part(".to-bench", `${address} ${carries}`, () =>
      address === ""
        ? []
        : [
            h("a", { href: address }, "Open this step in its bench"),
            ...(carries === "" ? [] : [h("span", { class: "soft" }, ` ${carries}`)]),
          ],
    );
    this.#part(".sentences", view.sentences.join("|"), () =>
      view.sentences.map((text) => h("li", {}, text)),
    );
    const shown = view.last ? view.summary : null;
    this.#part(".measured", JSON.stringify(shown), () => (shown ? measured(shown) : []));
  }

  /**
   * @param {string} selector
   * @param {string} title
   * @param {import("../types.js").Difference[] | null} differences null: nothing to compare with
   */
  #differences(selector, title, differences) {
    this.#part(selector, JSON.stringify(differences), () => {
      if (!differences) return [];
      const rows =
        differences.length === 0
          ? [h("li", {}, "Nothing that shows.")]
          : differences.map(({ message }) => h("li", {}, sentence(message)));
      return [h("h4", {}, title), h("ul", {}, ...rows)];
    });
  }

  /**
   * @param {string} selector
   * @param {string} stamp
   * @param {() => Node[]} build
   */
  #part(selector, stamp, build) {
    const place = this.querySelector(selector);
    if (place instanceof HTMLElement) rebuild(place, stamp, build);
  }
}

/** @param {import("../types.js").FlowWarning} one */
function warning({ message, hint, x_um: x }) {
  const text = `${sentence(message)} ${sentence(hint)}`;
  const place =
    x === null
      ? []
      : [
          " ",
          h(
            "button",
            { type: "button", "data-x": String(x) },
            `Show x = ${Number(x.toPrecision(4))} µm`,
          ),
        ];
  return h("li", { class: "card warn" }, h("strong", {}, "Warning: "), text, ...place);
}

/** @param {import("../types.js").Summary} summary */
export function measured({ measurements, rule_breaks: breaks }) {
  const rows = measurements.map((one) => {
    const words = valueWords(one.value, one.unit || nameAndUnit(one.id)[1]);
    return h(
      "tr",
      {},
      h("th", { scope: "row" }, one.quantity),
      h("td", {}, words),
      h("td", {}, one.where),
    );
  });
  return [
    h("h4", {}, "Measured on the finished wafer"),
    h(
      "div",
      { class: "table-region", tabindex: "0", role: "group", "aria-label": "Measurements" },
      h(
        "table",
        { class: "measurements" },
        h(
          "thead",
          {},
          h(
            "tr",
            {},
            h("th", { scope: "col" }, "Quantity"),
            h("th", { scope: "col" }, "Value"),
            h("th", { scope: "col" }, "Where"),
          ),
        ),
        h("tbody", {}, ...rows),
      ),
    ),
    h("h4", {}, "Design rules"),
    breaks.length === 0
      ? h("p", {}, "The layout keeps every rule that is checked.")
      : h("ul", {}, ...breaks.map(({ message }) => h("li", {}, sentence(message)))),
  ];
}
