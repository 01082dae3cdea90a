/** One polite message after things have settled; errors at once. */

import { setText } from "./dom.js";

const SETTLED_MS = 500;
let timer = 0;

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
