/**
 * Brings the part of the kernel that a bench needs, with few words and no surprise: what is in view
 * stays until the part is there, and a part that does not come can be asked for again.
 */

import { alertNow, announce } from "./announce.js";
import { setText } from "./dom.js";
import { loadFamily, useFamily } from "./lab.js";

/** A part that comes sooner is not worth a word. */
const QUIET_MS = 200;

export class FamilyLoader {
  /** Counts the wishes: only the latest one is carried out. */
  #wish = 0;
  #timer = 0;
  /** @type {(() => void) | null} */
  #again = null;
  #card = document.getElementById("starting");
  #buttons = document.getElementById("starting-buttons");

  constructor() {
    document.getElementById("retry")?.addEventListener("click", () => this.#again?.());
  }

  /**
   * Has a family in use; gives false if another one was wished for meanwhile. While it cannot be
   * loaded this neither gives up nor fails: it waits for the person to try again.
   * @param {string} name
   */
  async need(name) {
    this.#wish += 1;
    const wish = this.#wish;
    this.#hide();
    for (;;) {
      this.#again = null;
      this.#timer = window.setTimeout(() => {
        const text = `Loading the ${name} part of the kernel \u2026`;
        this.#show(text, false);
        announce(text);
      }, QUIET_MS);
      try {
        const family = await loadFamily(name);
        if (wish !== this.#wish) return false;
        this.#hide();
        useFamily(family);
        return true;
      } catch (thrown) {
        if (wish !== this.#wish) return false;
        clearTimeout(this.#timer);
        const reason = thrown instanceof Error ? thrown.message : String(thrown);
        const text = `The ${name} part of the kernel could not be loaded. ${reason}.`;
        this.#show(text, true);
        alertNow(text);
      }
      await new Promise((resolve) => {
        this.#again = () => resolve(undefined);
      });
      // The same words must be an alert again if it fails again.
      alertNow("");
      this.#show(`Loading the ${name} part of the kernel \u2026`, false);
    }
  }

  /**
   * @param {string} text
   * @param {boolean} failed whether trying again is offered
   */
  #show(text, failed) {
    setText(document.getElementById("starting-text"), text);
    this.#buttons?.toggleAttribute("hidden", !failed);
    this.#card?.removeAttribute("hidden");
  }

  #hide() {
    clearTimeout(this.#timer);
    this.#card?.setAttribute("hidden", "");
  }
}
