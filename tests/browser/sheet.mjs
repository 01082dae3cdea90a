/** The open Run sheet, as a person finds their way in it: every selector of its tests stands here. */

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
    );
  }

  /** Waits until every step has run. */
  async done() {
    // A change is rendered in the next frame.
    await this.page.waitForTimeout(80);
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

  /** What the section looks like, as a number. */
  async look() {
    const drawing = this.page.locator("sheet-section svg > g").first();
    return drawing.evaluate(async (element) => {
      let now = element.innerHTML;
      // Until it stays the same for a while: a picture may still be on its way.
      for (let same = 0; same < 5;) {
        await new Promise((resolve) => setTimeout(resolve, 150));
        same = element.innerHTML === now ? same + 1 : 0;
        now = element.innerHTML;
      }
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
