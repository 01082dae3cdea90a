/** The masks of an open Run sheet, as a person finds their way in them. */

import assert from "node:assert/strict";

import { answered, eventually, frames, looksAs, looksOtherThan } from "./waiting.mjs";

/** @typedef {import("playwright-core").Page} Page */
/** @typedef {readonly [number, number]} Point x and y in µm */

export class Masks {
  /** @param {Page} page */
  constructor(page) {
    this.page = page;
  }

  /** @param {string} id */
  field(id) {
    return this.page.locator(`#${id}`);
  }

  /** @param {"x" | "y"} axis */
  slider(axis) {
    return this.page.locator(`#overlay-${axis}-slider`);
  }

  /** @param {string} level */
  shown(level) {
    return this.page.locator(`sheet-levels input[value="${level}"]`);
  }

  /** @param {string} handle */
  handle(handle) {
    return this.page.locator(`[data-handle="${handle}"]`);
  }

  /** Broken design rules. */
  rules() {
    return this.page.locator("sheet-line .rules li");
  }

  /** @param {string} level */
  async change(level) {
    await this.page.locator(`sheet-levels [data-level="${level}"]`).click();
    await this.page.locator("sheet-mask:not([hidden])").waitFor();
  }

  /**
   * Presses a button as the keyboard does.
   * @param {string} name
   */
  async press(name) {
    const zone = this.page.locator(".masks-zone");
    await zone.getByRole("button", { name, exact: true }).press("Enter");
  }

  /**
   * @param {string} id
   * @param {string} text
   */
  async type(id, text) {
    await this.field(id).fill(text);
    await this.field(id).press("Enter");
  }

  /**
   * Waits until a field has a value.
   * @param {string} id
   * @param {string} value
   */
  async has(id, value) {
    await this.page.waitForFunction(([field, wanted]) => {
      const input = document.getElementById(field);
      const known = input instanceof HTMLInputElement || input instanceof HTMLSelectElement;
      return known && input.value === wanted;
    }, /** @type {const} */ ([id, value]));
  }

  /** The numbers of the chosen figure, once the page has drawn it. */
  async box() {
    await this.#frame();
    return Promise.all(
      ["x1", "y1", "x2", "y2"].map((part) => this.field(`box-${part}`).inputValue()),
    );
  }

  /**
   * Waits until the chosen figure has these numbers.
   * @param {string[]} numbers x1, y1, x2, y2
   */
  async boxed(numbers) {
    await eventually(async () => assert.deepEqual(await this.box(), numbers));
  }

  /**
   * Waits until a level is ticked, or is not.
   * @param {string} level
   * @param {boolean} ticked
   */
  async ticked(level, ticked) {
    await eventually(async () => assert.equal(await this.shown(level).isChecked(), ticked, level));
  }

  /**
   * Waits until the drawing looks as it did.
   * @param {string} before
   */
  async looks(before) {
    await looksAs(() => this.look(), before);
  }

  /**
   * Waits until the drawing looks different, and gives its look.
   * @param {string} before
   */
  async looksOther(before) {
    return looksOtherThan(() => this.look(), before);
  }

  /**
   * @param {string} level
   * @param {RegExp} words
   */
  async levelWords(level, words) {
    const row = this.page
      .locator("sheet-levels li")
      .filter({ has: this.page.locator(`input[value="${level}"]`) });
    await row.filter({ hasText: words }).waitFor();
  }

  /** @param {RegExp} words */
  async overlayWords(words) {
    await this.page.locator("#overlay-words", { hasText: words }).waitFor();
  }

  /**
   * @param {string} id
   * @param {RegExp} words
   */
  async refused(id, words) {
    await this.page.locator(`#${id}-error`, { hasText: words }).waitFor();
  }

  /** What the drawing looks like. */
  async look() {
    await this.#frame();
    return this.page.locator("sheet-layout svg > g").first().innerHTML();
  }

  /**
   * From one place of the layout to another by the mouse.
   * @param {Point} from
   * @param {Point} to
   */
  async drag(from, to) {
    const { at } = await this.#map();
    await this.#go(at(from), at(to));
  }

  /** @param {Point} place */
  async tap(place) {
    const { at } = await this.#map();
    await this.page.mouse.click(...at(place));
  }

  /**
   * @param {string} handle
   * @param {Point} by in µm
   */
  async dragHandle(handle, [dx, dy]) {
    const { px } = await this.#map();
    const [x, y] = await this.middle(handle);
    await this.#go([x, y], [x + px * dx, y - px * dy]);
  }

  /**
   * @param {[number, number]} from
   * @param {[number, number]} to
   */
  async #go(from, to) {
    const { mouse } = this.page;
    await mouse.move(...from);
    await mouse.down();
    await mouse.move((from[0] + to[0]) / 2, (from[1] + to[1]) / 2);
    await mouse.move(...to);
    await mouse.up();
  }

  /** Brings the drawing into view, once what stands above it is there; tells where it is then. */
  async toView() {
    await answered(this.page);
    await this.page
      .locator("sheet-layout svg")
      .evaluate((svg) => svg.scrollIntoView({ block: "center" }));
    await this.#frame();
    return this.top();
  }

  /** Where the drawing begins on the screen. */
  async top() {
    return (await this.page.locator("sheet-layout svg").boundingBox())?.y ?? NaN;
  }

  /** @param {Point} place */
  async screen(place) {
    return (await this.#map()).at(place);
  }

  /**
   * The middle of a handle on the screen.
   * @param {string} handle
   * @returns {Promise<[number, number]>}
   */
  async middle(handle) {
    const box = await this.handle(handle).boundingBox();
    if (!box) throw new Error(`there is no handle ${handle}`);
    return [box.x + box.width / 2, box.y + box.height / 2];
  }

  /**
   * A finger that is put down, moved and lifted.
   * @param {[number, number]} from
   * @param {[number, number]} by
   */
  async touch([x, y], [dx, dy]) {
    const client = await this.page.context().newCDPSession(this.page);
    /** @type {(type: "touchStart" | "touchMove" | "touchEnd", share?: number) => Promise<unknown>} */
    const put = (type, share) =>
      client.send("Input.dispatchTouchEvent", {
        type,
        touchPoints: share === undefined ? [] : [{ x: x + share * dx, y: y + share * dy }],
      });
    await put("touchStart", 0);
    for (const share of [0.25, 0.5, 0.75, 1]) await put("touchMove", share);
    await put("touchEnd");
    await client.detach();
    await this.#frame();
  }

  /** Where the places of the layout are on the screen: its frame is the first line that is drawn. */
  async #map() {
    await this.page.locator("sheet-layout svg").scrollIntoViewIfNeeded();
    await this.#frame();
    const [frame, extent] = await this.page.evaluate(() => {
      const { x, y, width, height } =
        document.querySelector("sheet-layout svg > g path")?.getBoundingClientRect() ??
        new DOMRect();
      const words = document.querySelector("#layout-words")?.textContent ?? "";
      const um = [...words.matchAll(/([\d.]+)\s*(µm|mm)/g)].slice(0, 2);
      return /** @type {const} */ ([
        { x, y, width, height },
        um.map(([, value, unit]) => Number(value) * (unit === "mm" ? 1000 : 1)),
      ]);
    });
    const px = frame.width / (extent[0] ?? 1);
    /** @type {(place: Point) => [number, number]} */
    const at = ([x, y]) => [frame.x + px * x, frame.y + frame.height - px * y];
    return { px, at };
  }

  async #frame() {
    await frames(this.page);
  }

  /** What the accessibility checker finds. */
  violations() {
    return this.page.evaluate(async () => {
      /** @typedef {{ id: string, help: string, nodes: { target: string[], failureSummary: string }[] }} Violation */
      const axe =
        /** @type {{ axe: { run: (node: Document, options: object) => Promise<{ violations: Violation[] }> } }} */ (
          /** @type {unknown} */ (globalThis)
        ).axe;
      const values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
      const found = await axe.run(document, { runOnly: { type: "tag", values } });
      return found.violations.map(
        ({ id, help, nodes }) =>
          `${id}: ${help}: ${nodes.slice(0, 3).map((n) => `${n.target} ${n.failureSummary}`)}`,
      );
    });
  }
}
