import { h, rebuild, send, setText } from "../dom.js";
import { number, plain, quantity, sentence } from "../format.js";
import { LabElement } from "./lab-element.js";

/** @typedef {import("../types.js").Answer} Answer */
/** @typedef {import("../types.js").Report} Report */
/** @typedef {import("../types.js").Run} Run */

/**
 * The reading: big results, warnings, what to notice. Sends `lab:restart`, `lab:stop`,
 * `lab:cancel` and `lab:copy-details`.
 */
export class LabReading extends LabElement {
  /** @type {Answer | null} */
  #answer = null;

  build() {
    this.append(
      h("h3", {}, "Reading"),
      h("div", { class: "run-state" }),
      h("dl", { class: "big" }),
      h("div", { class: "compared" }),
      h("div", { class: "warnings" }),
      h("p", { class: "notice" }),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener(
      "click",
      (event) => {
        const button = event.target instanceof Element ? event.target.closest("button") : null;
        if (button?.dataset["verb"]) send(this, button.dataset["verb"]);
      },
      { signal },
    );
  }

  /**
   * @param {{ run: Run, reading: import("../readings.js").Reading, slow: boolean,
   *   stray: string, pinned: import("../types.js").Pin | null } | null} view nothing while an exercise hides it
   */
  render(view) {
    if (!view) {
      this.#answer = null;
      for (const part of this.querySelectorAll("dl, .compared, .warnings, .run-state")) {
        if (part instanceof HTMLElement) rebuild(part, "", () => []);
      }
      setText(this.querySelector(".notice"), "");
      return;
    }
    const { run, reading } = view;
    this.#state(view);
    const answer = run.answer;
    for (const part of this.querySelectorAll(":scope > :not(h3, .run-state)")) {
      if (part instanceof HTMLElement) part.hidden = answer === null;
    }
    if (!answer) return;
    this.#results(reading, view.pinned);
    this.#compared(reading.compared);
    setText(this.querySelector(".notice"), reading.notice);
    if (answer === this.#answer) return;
    this.#answer = answer;
    this.#warnings(answer.report);
  }

  /** @param {{ run: Run, slow: boolean, stray: string }} view */
  #state({ run, slow, stray }) {
    const place = this.querySelector(".run-state");
    if (!(place instanceof HTMLElement)) return;
    const details = run.status === "broken" ? run.details : "";
    const flown = run.status === "computing" ? run.flown : undefined;
    rebuild(place, `${run.status}|${slow}|${flown !== undefined}|${stray}|${details}`, () => {
      if (run.status === "broken") {
        return [
          h(
            "div",
            { class: "card wrong" },
            h("p", { class: "strong" }, "The computation broke down."),
            h(
              "p",
              {},
              "Your settings are kept. Restart it; if it breaks again, copy the details into a report.",
            ),
            h("pre", { tabindex: "0" }, details),
            h(
              "p",
              { class: "buttons" },
              h("button", { type: "button", "data-verb": "restart" }, "Restart"),
              h("button", { type: "button", "data-verb": "copy-details" }, "Copy details"),
            ),
          ),
        ];
      }
      const nodes = [];
      if (run.status === "refused") {
        const words = stray === "" ? "See the message beside the field." : stray;
        nodes.push(
          h(
            "div",
            { class: "card wrong" },
            h("p", {}, h("strong", {}, "Not updated. "), words),
            ...(run.answer ? [h("p", {}, "What is shown belongs to the last good settings.")] : []),
          ),
        );
      }
      if (flown) {
        nodes.push(
          h(
            "p",
            { class: "buttons" },
            h("span", { class: "flown" }),
            h("button", { type: "button", "data-verb": "cancel" }, "Cancel"),
          ),
        );
      } else if (slow) {
        nodes.push(
          h(
            "p",
            { class: "buttons" },
            h("span", {}, "Computing … "),
            h("button", { type: "button", "data-verb": "stop" }, "Stop"),
          ),
        );
      }
      return nodes;
    });
    // The words change with every look; the button stays, and so does the focus on it.
    if (flown) {
      const what = run.answer?.report.operation === "process_window" ? "points" : "ions";
      const words = `${plain(flown.done)} of ${plain(flown.total)} ${what} `;
      setText(place.querySelector(".flown"), words);
    }
  }

  /**
   * @param {import("../readings.js").Reading} reading
   * @param {import("../types.js").Pin | null} pinned
   */
  #results(reading, pinned) {
    const list = this.querySelector("dl");
    if (!(list instanceof HTMLElement)) return;
    rebuild(list, reading.big.map((b) => b.name).join(), () =>
      reading.big.map((one) =>
        h(
          "div",
          { "data-result": one.result },
          h("dt", {}, one.name),
          h("dd", {}, h("output", { class: "value" }), h("small", {})),
        ),
      ),
    );
    reading.big.forEach((one, k) => {
      const row = list.children[k];
      const value = one.value === null ? "none" : quantity(one.value, one.unit);
      setText(row?.querySelector("output"), value);
      // A long number takes a line of its own.
      row?.toggleAttribute("data-wide", value.length > 11);
      const before = pinned ? number(pinned.results, one.result) : null;
      const compared = before === null ? "" : `pinned ${quantity(before, one.unit)}`;
      setText(row?.querySelector("small"), [one.meaning, compared].filter(Boolean).join("; "));
    });
  }

  /** @param {import("../readings.js").Compared | null} compared */
  #compared(compared) {
    const place = this.querySelector(".compared");
    if (!(place instanceof HTMLElement)) return;
    rebuild(place, compared ? JSON.stringify(compared) : "", () => {
      if (!compared) return [];
      const { caption, heads, rows, notes } = compared;
      return [
        h(
          "div",
          { class: "tables", tabindex: "0", role: "group", "aria-label": "Side by side" },
          h(
            "table",
            {},
            h("caption", {}, caption),
            h("thead", {}, h("tr", {}, ...heads.map((text) => h("th", { scope: "col" }, text)))),
            h(
              "tbody",
              {},
              ...rows.map(([name = "", ...cells]) =>
                h(
                  "tr",
                  {},
                  h("th", { scope: "row" }, name),
                  ...cells.map((text) => h("td", {}, text)),
                ),
              ),
            ),
          ),
        ),
        ...notes.map((note) => h("p", { class: "soft" }, note)),
      ];
    });
  }

  /** @param {Report} report */
  #warnings(report) {
    const place = this.querySelector(".warnings");
    if (!(place instanceof HTMLElement)) return;
    rebuild(place, JSON.stringify(report.warnings), () =>
      report.warnings.map((warning) =>
        h(
          "p",
          { class: "card warn", "data-warning": warning.code },
          h("strong", {}, "Mind: "),
          sentence(warning.message),
          " ",
          sentence(warning.hint),
        ),
      ),
    );
  }
}
