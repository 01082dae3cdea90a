/** The open Run sheet, as a person finds their way in it: every selector of its tests stands here. */

import assert from "node:assert/strict";

import { answered, eventually, frames, looksAs, looksOtherThan } from "./waiting.mjs";

/** @typedef {import("playwright-core").Page} Page */

/** A whole flow takes some seconds, on a busy machine many. */
const WHOLE_MS = 180_000;

/**
 * Opens the Run sheet at a fragment such as `#v=1&flow=full-cmos` and waits for its first picture and
 * the page around it.
 * @param {ReturnType<typeof import("./harness.mjs").useLab>} visit
 * @param {import("node:test").TestContext} t
 * @param {string} [fragment]
 * @param {import("./harness.mjs").VisitOptions} [options]
 */
export async function openSheet(visit, t, fragment = "", options = {}) {
  const lab = await visit(t, `run-sheet.html${fragment}`, { ...options, load: false });
  const sheet = new Sheet(lab.page);
  await sheet.section().waitFor({ timeout: 60_000 });
  // The rest of the page comes after it.
  await sheet.rows().first().waitFor({ state: "attached" });
  await sheet.page.locator("sheet-editor > *").first().waitFor({ state: "attached" });
  return sheet;
}

export class Sheet {
  /** @param {Page} page */
  constructor(page) {
    this.page = page;
  }

  /** The picture of the section, once there is one. */
  section() {
    return this.page.locator("sheet-section[data-step]");
  }

  /** The rows of the traveller. */
  rows() {
    return this.page.locator("sheet-traveller li");
  }

  /** @param {string} id */
  row(id) {
    return this.page.locator(`sheet-traveller li[data-step="${id}"]`);
  }

  scrubber() {
    return this.page.locator("#scrubber");
  }

  report() {
    return this.page.locator("sheet-report");
  }

  warnings() {
    return this.page.locator("sheet-report .warnings li");
  }

  cautions() {
    return this.page.locator("lab-caution .caution");
  }

  /**
   * The open cautions of a step, by its number from 1, once they are shown.
   * @param {number} number
   */
  cautionsOf(number) {
    return this.page.locator(`lab-caution[data-step="${number}"] .caution`);
  }

  /** @param {string} path such as `time_min` */
  number(path) {
    return this.page.locator(`sheet-editor [data-field="${path}"] input[type=text]`);
  }

  /**
   * Waits until the traveller has so many rows.
   * @param {number} count
   */
  async has(count) {
    await this.page.waitForFunction(
      (wanted) => document.querySelectorAll("sheet-traveller li").length === wanted,
      count,
      { timeout: 30_000 },
    );
  }

  /** Waits until every step has run. */
  async done() {
    // A change is rendered in the next frame.
    await frames(this.page);
    await this.page.waitForFunction(
      () => {
        const bar = document.querySelector("sheet-steps progress");
        return bar instanceof HTMLProgressElement && bar.hidden;
      },
      null,
      { timeout: WHOLE_MS },
    );
  }

  /**
   * Waits until the section is that of a step, by its number from 1.
   * @param {number} number
   */
  async shows(number) {
    await this.page
      .locator(`sheet-section[data-step="${number}"]:not(.stale)`)
      .waitFor({ timeout: WHOLE_MS });
  }

  /**
   * Goes to a step of the traveller.
   * @param {string} id
   */
  async go(id) {
    // Rows that a change moves are moved in the next frame.
    await frames(this.page);
    await this.row(id).locator("button").click();
    const number = await this.row(id).evaluate(
      (item) => 1 + [...(item.parentElement?.children ?? [])].indexOf(item),
    );
    await this.shows(number);
  }

  /**
   * Types a parameter of the step in view and commits it.
   * @param {string} path
   * @param {string} text
   */
  async type(path, text) {
    await this.number(path).fill(text);
    await this.number(path).press("Enter");
  }

  /**
   * Waits until the whole page is that of a step, by its number from 1: what follows a step at
   * once, and what waits until somebody stays.
   * @param {number} number
   */
  async stays(number) {
    await this.page.waitForFunction(
      (step) => new RegExp(`, step ${step} `).test(document.title),
      number,
      { timeout: WHOLE_MS },
    );
  }

  /**
   * Waits until a number field of the step in view has a value.
   * @param {string} path
   * @param {string} value
   */
  async holds(path, value) {
    await eventually(async () => assert.equal(await this.number(path).inputValue(), value, path));
  }

  /**
   * Waits until the address says something, and gives its fragment.
   * @param {RegExp} words found in the fragment as it reads without escapes
   */
  async addressed(words) {
    return eventually(async () => {
      const hash = await this.page.evaluate(() => location.hash);
      assert.match(decodeURIComponent(hash.replaceAll("+", " ")), words);
      return hash;
    });
  }

  /**
   * Waits until what a person has made is kept in this browser.
   * @param {RegExp} words found in what is kept
   */
  async kept(words) {
    await eventually(async () =>
      assert.match(await this.page.evaluate(() => JSON.stringify({ ...localStorage })), words),
    );
  }

  /**
   * Waits until the section looks as it did.
   * @param {string} before
   */
  async looks(before) {
    await looksAs(() => this.look(), before);
  }

  /**
   * Waits until the section looks different, and gives its look.
   * @param {string} before
   */
  async looksOther(before) {
    return looksOtherThan(() => this.look(), before);
  }

  /** What the section looks like, as a number, once no picture is on its way. */
  async look() {
    await answered(this.page, { patience: WHOLE_MS });
    const drawing = this.page.locator("sheet-section svg > g").first();
    return drawing.evaluate((element) => {
      const now = element.innerHTML;
      let sum = 0x811c9dc5;
      for (let k = 0; k < now.length; k += 1) sum = Math.imul(sum ^ now.charCodeAt(k), 0x01000193);
      return `${now.length} ${(sum >>> 0).toString(16)}`;
    });
  }

  /** Whether the page needs no sideways scrolling. */
  fitsWidth() {
    return this.page.evaluate(
      () => document.documentElement.scrollWidth <= document.documentElement.clientWidth,
    );
  }
}
