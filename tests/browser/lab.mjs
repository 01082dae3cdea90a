/** The open lab, as a person finds their way in it: every selector of the tests stands here. */

import { answered, eventually } from "./waiting.mjs";

/** @typedef {import("playwright-core").Page} Page */
/** @typedef {{ reading: string, picture: string, plot: string }} Look */

/** The benches by the id in their address, with the operations they offer. */
export const BENCHES = /** @type {const} */ ([
  { id: "furnace", name: "Furnace", operations: ["oxidation"] },
  { id: "spinner", name: "Spinner", operations: ["spin_coating", "bake"] },
  { id: "aligner", name: "Aligner", operations: ["exposure", "process_window"] },
  { id: "developer", name: "Developer", operations: ["development"] },
  { id: "wet-bench", name: "Wet bench", operations: ["wet_etch"] },
  { id: "deposition", name: "Deposition bench", operations: ["deposition"] },
  { id: "dry-etcher", name: "Dry etcher", operations: ["dry_etch", "resist_strip"] },
  { id: "polisher", name: "Polisher", operations: ["planarization"] },
  {
    id: "diffusion-tube",
    name: "Diffusion tube",
    operations: ["predeposition", "drive_in", "anneal"],
  },
  { id: "implanter", name: "Implanter", operations: ["implantation"] },
  { id: "four-point", name: "Four-point", operations: ["sheet"] },
]);

export class Lab {
  /**
   * @param {Page} page
   * @param {string} address
   * @param {string[]} [complaints] what the harness has noticed and will fail the test for
   */
  constructor(page, address, complaints = []) {
    this.page = page;
    this.address = address;
    this.complaints = complaints;
  }

  /** Waits until a result stands there and its plot is drawn. */
  async ready() {
    await this.reading().waitFor();
    await this.page.waitForFunction(() => {
      const canvas = document.querySelector("lab-plot canvas");
      return canvas instanceof HTMLCanvasElement && canvas.width !== 300;
    });
    // Ions may still fly: their first look is a result.
    await answered(this.page, { looks: true });
    await this.#still();
  }

  /** The results in big type. */
  reading() {
    return this.page.locator("lab-reading output").first();
  }

  /** @param {string} path such as `temperature_c` */
  field(path) {
    return this.page.locator(`[data-field="${path}"]:visible`).first();
  }

  /** @param {string} path */
  slider(path) {
    return this.field(path).locator("input[type=range]");
  }

  /** @param {string} path */
  number(path) {
    return this.field(path).locator("input[type=text]");
  }

  /** @param {string} path */
  fieldError(path) {
    return this.field(path).locator(".field-error");
  }

  /**
   * Types a value and commits it.
   * @param {string} path
   * @param {string} text
   */
  async type(path, text) {
    await this.number(path).fill(text);
    await this.number(path).press("Enter");
  }

  /**
   * Moves a slider to a part of its way, as a pointer would, in one step.
   * @param {string} path
   * @param {number} fraction
   */
  async drag(path, fraction) {
    await this.slider(path).evaluate((slider, part) => {
      if (!(slider instanceof HTMLInputElement)) throw new Error("not a slider");
      const min = Number(slider.min);
      slider.value = String(min + part * (Number(slider.max) - min));
      slider.dispatchEvent(new InputEvent("input", { bubbles: true }));
      slider.dispatchEvent(new Event("change", { bubbles: true }));
    }, fraction);
  }

  /** What a person sees of a result: its numbers, the picture and the pixels of the plot. */
  /** @returns {Promise<Look>} */
  look() {
    return this.page.evaluate(() => {
      /** @param {string} text */
      const hash = (text) => {
        let sum = 0x811c9dc5;
        for (let k = 0; k < text.length; k += 1) {
          sum = Math.imul(sum ^ text.charCodeAt(k), 0x01000193);
        }
        return (sum >>> 0).toString(16);
      };
      const canvas = document.querySelector("lab-plot canvas");
      const picture = document.querySelector("lab-picture svg");
      return {
        reading: document.querySelector("lab-reading")?.textContent ?? "",
        picture: picture ? hash(picture.innerHTML) : "",
        plot: canvas instanceof HTMLCanvasElement ? hash(canvas.toDataURL()) : "",
      };
    });
  }

  /** Waits until nothing changes any more and gives what is seen then. */
  async settle() {
    await answered(this.page);
    return this.#still();
  }

  /** Waits until two looks are the same. */
  async #still() {
    let before = await this.look();
    for (let k = 0; k < 100; k += 1) {
      await this.page.waitForTimeout(60);
      const now = await this.look();
      const same = JSON.stringify(now) === JSON.stringify(before);
      if (same && now.plot !== "") return now;
      before = now;
    }
    throw new Error("the lab does not come to rest");
  }

  /**
   * Waits until all of the result has changed; says which part has not.
   * @param {Look} before
   * @param {(keyof Look)[]} [parts]
   */
  async changed(before, parts = ["reading", "picture", "plot"]) {
    await eventually(async () => {
      const now = await this.look();
      const same = parts.filter((part) => now[part] === before[part]);
      if (same.length > 0) throw new Error(`unchanged: ${same.join(", ")}`);
    });
  }

  /** The count of single ions while they fly. */
  flown() {
    return this.page.locator("lab-reading .flown");
  }

  /** How many have flown, as the count says. */
  async ionsFlown() {
    const text = (await this.flown().textContent()) ?? "";
    return Number(text.split(" of ")[0]?.replace(/\D/g, ""));
  }

  /**
   * A number among the results in big type.
   * @param {string} name
   */
  async result(name) {
    const output = this.page.locator(`lab-reading [data-result="${name}"] output`);
    return Number.parseFloat(((await output.textContent()) ?? "").replace(/[\s\u202f]/g, ""));
  }

  /** Opens every folded group of settings. */
  async openGroups() {
    await this.page.evaluate(() => {
      for (const group of document.querySelectorAll("lab-settings details")) {
        group.setAttribute("open", "");
      }
    });
  }

  /**
   * Chooses a word of a list.
   * @param {string} path
   * @param {string} word
   */
  async choose(path, word) {
    await this.field(path).locator("select").selectOption(word);
  }

  /** The open cautions of the bench. */
  cautions() {
    return this.page.locator("lab-caution .caution");
  }

  /** What the lab refused from the address, in words. */
  notices() {
    return this.page.locator("#notices");
  }

  /** What is said while a part of the kernel is loaded, and if it does not come. */
  loading() {
    return this.page.locator("#starting");
  }

  /** Whether the page needs no sideways scrolling. */
  fitsWidth() {
    return this.page.evaluate(
      () => document.documentElement.scrollWidth <= document.documentElement.clientWidth,
    );
  }

  /**
   * Goes to another fragment in the same document, as a link inside the page does.
   * @param {string} fragment
   */
  async follow(fragment) {
    await this.page.evaluate((hash) => {
      location.hash = hash;
    }, fragment);
  }
}
