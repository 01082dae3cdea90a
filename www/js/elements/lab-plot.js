import { h, rebuild, send, setText } from "../dom.js";
import { drawChart } from "../lab.js";
import { tablesOf } from "../table.js";
import { theme } from "../theme.js";
import { LabElement } from "./lab-element.js";

/** @typedef {import("../types.js").Chart} Chart */
/** Rows shown in the data table; the file holds all of them. */
const MOST_ROWS = 50;
/** Beyond this density a canvas only costs time. */
const MOST_PIXELS = 3;

/**
 * The chart, drawn on a canvas by the kernel's drawing code, with its summary and data. Sends
 * `lab:chart`, `lab:pin`, `lab:unpin`, `lab:save` and `lab:drawn`.
 */
export class LabPlot extends LabElement {
  /** @type {Chart | null} */
  #chart = null;
  /** @type {Chart | null} */
  #ghost = null;
  #frame = 0;
  /** Size of the canvas in CSS pixels; asked for anew only after a change, as it costs a layout. */
  #size = { width: 0, height: 0 };
  #drawn = "";
  #printing = false;
  /** @type {Chart | null} */
  #tabled = null;

  build() {
    this.append(
      h(
        "figure",
        { class: "plot" },
        h(
          "div",
          { class: "plot-head" },
          h("figcaption", { id: "plot-name" }),
          h("div", { class: "plot-choice" }),
        ),
        h(
          "div",
          { class: "plot-frame" },
          h("canvas", { role: "img", "aria-labelledby": "plot-name plot-text" }),
        ),
        h("p", { class: "soft", id: "plot-text" }),
      ),
      h(
        "p",
        { class: "buttons" },
        h("button", { type: "button", "data-verb": "pin" }, "Pin this curve"),
        h("button", { type: "button", "data-verb": "unpin", hidden: "" }, "Unpin"),
        h("span", { class: "soft" }, "Save"),
        saveButton("csv", "CSV"),
        saveButton("svg", "SVG"),
        saveButton("png", "PNG"),
        saveButton("picture", "picture"),
      ),
      h(
        "details",
        { class: "data" },
        h("summary", {}, "Data"),
        h("div", { class: "tables", tabindex: "0", role: "group", "aria-label": "Data tables" }),
      ),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    const frame = this.querySelector(".plot-frame");
    const observer = new ResizeObserver(() => {
      this.#size = { width: 0, height: 0 };
      this.#schedule();
    });
    if (frame) observer.observe(frame);
    signal.addEventListener("abort", () => observer.disconnect());
    this.#watchDensity(signal);
    for (const [event, printing] of /** @type {const} */ ([
      ["beforeprint", true],
      ["afterprint", false],
    ])) {
      window.addEventListener(
        event,
        () => {
          this.#printing = printing;
          this.#size = { width: 0, height: 0 };
          this.#draw();
        },
        { signal },
      );
    }
    this.querySelector("details")?.addEventListener("toggle", () => this.#table(), { signal });
    this.addEventListener("click", (event) => this.#click(event), { signal });
    this.addEventListener(
      "change",
      (event) => {
        const select = event.target;
        if (select instanceof HTMLSelectElement) send(this, "chart", { id: select.value });
      },
      { signal },
    );
  }

  /** @param {{ charts: Chart[], id: string, ghost: Chart | null, pinned: string }} view */
  render(view) {
    const chart = view.charts.find((c) => c.id === view.id) ?? view.charts[0] ?? null;
    this.hidden = chart === null;
    if (!chart) {
      this.#clear();
      return;
    }
    const choice = this.querySelector(".plot-choice");
    if (choice instanceof HTMLElement) {
      const several = view.charts.length > 1 ? view.charts : [];
      rebuild(choice, several.map((c) => `${c.id}|${c.title}`).join(), () => {
        if (several.length === 0) return [];
        const options = several.map((c) => h("option", { value: c.id }, c.title));
        return [
          h("label", { for: "chart-choice" }, "Chart"),
          h("select", { id: "chart-choice" }, ...options),
        ];
      });
      const select = choice.querySelector("select");
      if (select) select.value = chart.id;
    }
    setText(this.querySelector("#plot-name"), chart.title);
    setText(
      this.querySelector("#plot-text"),
      view.ghost ? `${chart.summary} Pinned for comparison: ${view.pinned}.` : chart.summary,
    );
    this.querySelector("[data-verb=unpin]")?.toggleAttribute("hidden", !view.ghost);
    if (chart !== this.#chart || view.ghost !== this.#ghost) {
      this.#chart = chart;
      this.#ghost = view.ghost;
      this.#drawn = "";
      this.#drawNow();
      this.#table();
    }
  }

  /** Leaves nothing of the last chart in the document. */
  #clear() {
    this.#chart = null;
    this.#ghost = null;
    this.#tabled = null;
    setText(this.querySelector("#plot-text"), "");
    this.querySelector(".tables")?.replaceChildren();
    const canvas = this.querySelector("canvas");
    if (canvas) canvas.width = canvas.height = 0;
  }

  /** Draws again, for example in another palette. */
  refresh() {
    this.#drawn = "";
    this.#schedule();
  }

  get shown() {
    return { chart: this.#chart, ghost: this.#ghost };
  }

  /**
   * Draws a new chart at once, so that it is in the very next frame; a second one before that
   * frame waits for it.
   */
  #drawNow() {
    if (this.#frame === 0) this.#draw();
    this.#schedule();
  }

  #schedule() {
    if (this.#frame !== 0) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.#draw();
    });
  }

  #draw() {
    const canvas = this.querySelector("canvas");
    const chart = this.#chart;
    if (!canvas || !chart) return;
    if (this.#size.width === 0) {
      this.#size = {
        width: Math.round(canvas.clientWidth),
        height: Math.round(canvas.clientHeight),
      };
    }
    const { width, height } = this.#size;
    if (width < 40 || height < 40) return;
    const pixelRatio = Math.min(MOST_PIXELS, window.devicePixelRatio || 1);
    const palette = this.#printing ? "light" : theme();
    const key = `${width} ${height} ${pixelRatio} ${palette}`;
    if (key === this.#drawn) return;
    this.#drawn = key;
    drawChart(canvas, chart, this.#ghost, { theme: palette, width, height, pixelRatio });
    send(this, "drawn");
  }

  /**
   * A change of pixel density (zoom, another screen) has no event of its own: a media query for the
   * present density tells once, then is set up anew.
   * @param {AbortSignal} signal
   */
  #watchDensity(signal) {
    const query = matchMedia(`(resolution: ${window.devicePixelRatio}dppx)`);
    query.addEventListener(
      "change",
      () => {
        this.#schedule();
        this.#watchDensity(signal);
      },
      { once: true, signal },
    );
  }

  #table() {
    const details = this.querySelector("details");
    const place = this.querySelector(".tables");
    if (!details?.open || !place || !this.#chart || this.#tabled === this.#chart) return;
    this.#tabled = this.#chart;
    place.replaceChildren(...tablesOf(this.#chart, MOST_ROWS));
  }

  /** @param {Event} event */
  #click(event) {
    const button = event.target instanceof Element ? event.target.closest("button") : null;
    if (!button) return;
    const save = button.dataset["save"];
    if (save) send(this, "save", { format: save });
    else if (button.dataset["verb"]) send(this, button.dataset["verb"]);
  }
}

/**
 * @param {string} format
 * @param {string} label
 */
function saveButton(format, label) {
  const name = `Save ${label}`;
  return h("button", { type: "button", "data-save": format, "aria-label": name }, label);
}
