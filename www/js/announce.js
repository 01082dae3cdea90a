/** One polite message after things have settled; errors at once. */

import { h, setText } from "./dom.js";

const SETTLED_MS = 500;
let timer = 0;

const FLASH_MS = 3000;
let fading = 0;

/**
 * Says a result or a confirmation once no newer one has come for half a second.
 * @param {string} text
 */
export function announce(text) {
  clearTimeout(timer);
  timer = window.setTimeout(() => {
    setText(document.querySelector("[role=status]"), text);
  }, SETTLED_MS);
}

/** @param {string} text */
export function alertNow(text) {
  setText(document.querySelector("[role=alert]"), text);
}

/**
 * A short confirmation for those who see; the status region says it to those who listen.
 * @param {string} text
 */
export function flash(text) {
  let note = document.querySelector(".flash");
  if (!note) {
    note = h("p", { class: "flash", "aria-hidden": "true" });
    document.body.append(note);
  }
  const shown = note;
  shown.textContent = text;
  shown.removeAttribute("hidden");
  clearTimeout(fading);
  fading = window.setTimeout(() => shown.setAttribute("hidden", ""), FLASH_MS);
}
