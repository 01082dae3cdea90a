import { LabElement } from "../../elements/lab-element.js";
import { h, rebuild, send, setText } from "../../dom.js";
import { blankThumbnail, drawThumbnail } from "../thumbnail.js";

/** @typedef {import("../types.js").Scene} Scene */
/**
 * @typedef {{ id: string, name: string, words: string, purpose: string, note: string,
 *   signal: string, warnings: number, wrong: boolean, thumbnail: Scene | null,
 *   run: boolean }} Row
 * @typedef {{ rows: Row[] }} TravellerView
 */

/** How much of the list lies ahead of the step in view after it was scrolled. */
const AHEAD = 0.7;

/**
 * The list of steps, each with its section in small. Sends `lab:go` with the step and `lab:move`
 * after a drag.
 */
export class SheetTraveller extends LabElement {
  /** @type {{ item: HTMLElement, row: Row | null }[]} */
  #rows = [];
  #list = h("ol", { class: "traveller" });
  #dragged = -1;
  #step = -1;
  #follows = false;

  build() {
    this.append(this.#list);
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    const stepOf = (/** @type {Event} */ event) => {
      const item = event.target instanceof Element ? event.target.closest("li") : null;
      return item ? [...this.#list.children].indexOf(item) : -1;
    };
    this.addEventListener(
      "click",
      (event) => {
        const step = stepOf(event);
        if (step >= 0) send(this, "go", { step });
      },
      { signal },
    );
    this.addEventListener(
      "dragstart",
      (event) => {
        this.#dragged = stepOf(event);
        event.dataTransfer?.setData("text/plain", String(this.#dragged + 1));
      },
      { signal },
    );
    this.addEventListener(
      "dragover",
      (event) => {
        if (this.#dragged >= 0 && stepOf(event) >= 0) event.preventDefault();
      },
      { signal },
    );
    this.addEventListener(
      "drop",
      (event) => {
        const to = stepOf(event);
        event.preventDefault();
        if (this.#dragged >= 0 && to >= 0 && to !== this.#dragged) {
          send(this, "move", { from: this.#dragged, to });
        }
        this.#dragged = -1;
      },
      { signal },
    );
    this.addEventListener("dragend", () => (this.#dragged = -1), { signal });
  }

  /** @param {TravellerView} view */
  render({ rows }) {
    while (this.#rows.length > rows.length) this.#rows.pop()?.item.remove();
    rows.forEach((row, k) => {
      let known = this.#rows[k];
      if (!known) {
        known = { item: blank(k), row: null };
        this.#rows.push(known);
        this.#list.append(known.item);
      }
      if (!isSame(known.row, row)) fill(known.item, row, known.row);
      known.row = row;
    });
  }

  /**
   * Marks the step in view.
   * @param {number} step
   */
  go(step) {
    if (step === this.#step && this.#rows[step]?.item.querySelector("[aria-current]")) return;
    this.#rows[this.#step]?.item.querySelector("button")?.removeAttribute("aria-current");
    this.#step = step;
    const item = this.#rows[step]?.item;
    item?.querySelector("button")?.setAttribute("aria-current", "step");
    if (this.#follows) return;
    this.#follows = true;
    // The section first: the list is scrolled once that is painted, when its places are known.
    requestAnimationFrame(() => {
      setTimeout(() => {
        this.#follows = false;
        const shown = this.#rows[this.#step]?.item;
        if (shown) this.#show(shown);
      });
    });
  }

  /**
   * Scrolls the list, not the page: so far that the next steps in that direction are in view, too.
   * @param {HTMLElement} item
   */
  #show(item) {
    const room = this.clientHeight;
    if (this.scrollHeight <= room) return;
    const top = item.offsetTop - this.offsetTop;
    const bottom = top + item.offsetHeight;
    if (top < this.scrollTop) this.scrollTop = bottom - AHEAD * room;
    else if (bottom > this.scrollTop + room) this.scrollTop = top - (1 - AHEAD) * room;
  }
}

/** @param {number} k */
function blank(k) {
  return h(
    "li",
    { draggable: "true" },
    h(
      "button",
      { type: "button", class: "traveller-row" },
      h(
        "span",
        { class: "traveller-head" },
        h("span", { class: "number" }, String(k + 1).padStart(2, "0")),
        h("span", { class: "traveller-name" }),
      ),
      h(
        "span",
        { class: "traveller-foot" },
        h("span", { class: "traveller-words" }),
        h("span", { class: "marks" }),
      ),
      blankThumbnail(),
    ),
  );
}

/**
 * @param {HTMLElement} item
 * @param {Row} row
 * @param {Row | null} before what it shows now
 */
function fill(item, row, before) {
  item.dataset["state"] = row.wrong ? "wrong" : row.run ? "run" : "waiting";
  item.dataset["step"] = row.id;
  setText(item.querySelector(".traveller-name"), row.name);
  const note = row.note === "" ? "" : ` · ${row.note}`;
  setText(item.querySelector(".traveller-words"), `${row.words}${note}`);
  const marks = item.querySelector(".marks");
  if (marks instanceof HTMLElement) {
    rebuild(marks, `${row.signal} ${row.warnings} ${row.wrong}`, () => [
      ...(row.wrong ? [h("span", { class: "mark-wrong" }, "not done")] : []),
      ...(row.warnings > 0
        ? [
            h(
              "span",
              { class: "mark-warnings" },
              `${row.warnings} ${row.warnings === 1 ? "warning" : "warnings"}`,
            ),
          ]
        : []),
      ...(row.signal === ""
        ? []
        : [h("span", { class: `signal ${row.signal.toLowerCase()}` }, row.signal)]),
    ]);
  }
  if (row.thumbnail === before?.thumbnail) return;
  const drawing = item.querySelector("canvas");
  if (drawing) drawThumbnail(drawing, row.thumbnail);
}

/**
 * @param {Row | null} a
 * @param {Row} b
 */
function isSame(a, b) {
  if (!a) return false;
  return /** @type {(keyof Row)[]} */ (Object.keys(b)).every((key) => a[key] === b[key]);
}
