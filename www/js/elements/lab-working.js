import { h, rebuild } from "../dom.js";
import { quantity, sentence, significant } from "../format.js";
import { LabElement } from "./lab-element.js";

/** @typedef {import("../types.js").Report} Report */

/** How the numbers come about: the derivation line by line, how far to trust it, published points. */
export class LabWorking extends LabElement {
  /** @type {Report | null} */
  #report = null;
  /** @type {Report | null} */
  #worked = null;

  build() {
    this.append(
      h("details", { class: "working" }, h("summary", {}, "Show the working"), h("ol", {})),
      h("div", { class: "trust" }),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.querySelector("details")?.addEventListener("toggle", () => this.#work(), { signal });
  }

  /** @param {{ report: Report | null, charts: import("../types.js").Chart[] }} view */
  render({ report, charts }) {
    this.hidden = report === null;
    if (report === this.#report) return;
    this.#report = report;
    if (!report) this.querySelector("ol")?.replaceChildren();
    this.#trust(charts);
    this.#work();
  }

  /** @param {import("../types.js").Chart[]} charts */
  #trust(charts) {
    const place = this.querySelector(".trust");
    if (!(place instanceof HTMLElement)) return;
    const accuracy = this.#report?.accuracy ?? null;
    const published = this.#report?.published ?? [];
    rebuild(place, JSON.stringify([accuracy, published]), () => {
      /** @type {HTMLElement[]} */
      const nodes = [];
      if (accuracy) {
        const percent = quantity(100 * accuracy.relative, "%", 2);
        nodes.push(
          h(
            "p",
            {},
            h("strong", {}, `How far to trust it: ±${percent}. `),
            sentence(accuracy.meaning),
            " ",
            h("span", { class: "soft" }, `(${accuracy.source})`),
          ),
        );
      }
      if (published.length > 0) {
        nodes.push(
          h("h3", {}, "Published points on this curve"),
          h(
            "ul",
            { class: "published-list" },
            ...published.map((point) =>
              h(
                "li",
                {},
                `${placed(point, charts)}, to ±${quantity(100 * point.tolerance, "%", 2)}. `,
                h("span", { class: "soft" }, point.source),
              ),
            ),
          ),
        );
      }
      return nodes;
    });
  }

  #work() {
    const details = this.querySelector("details");
    const list = this.querySelector("ol");
    if (!details || !list) return;
    if (!details.open || this.#worked === this.#report) return;
    this.#worked = this.#report;
    list.replaceChildren(
      ...(this.#report?.working ?? []).map((line) =>
        h(
          "li",
          {},
          h("span", { class: "equation" }, line.equation),
          h("span", { class: "equation" }, line.substituted),
          h("span", { class: "equation strong" }, `= ${quantity(line.result, line.unit, 4)}`),
          h("small", { class: "soft" }, line.source),
        ),
      ),
    );
  }
}

/**
 * A published point with the units of the chart on which it is drawn.
 * @param {import("../types.js").PublishedPoint} point
 * @param {import("../types.js").Chart[]} charts
 */
function placed({ x, y }, charts) {
  const chart = charts.find((one) => one.published.some((other) => other.x === x && other.y === y));
  if (!chart) return `${significant(y)} at ${significant(x)}`;
  return `${quantity(y, chart.y.unit)} at ${quantity(x, chart.x.unit)}`;
}
