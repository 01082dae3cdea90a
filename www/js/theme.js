/** Light, dark, or as the system says. */

import { recall, remember } from "./storage.js";

const dark = matchMedia("(prefers-color-scheme: dark)");

/** @returns {"auto" | "light" | "dark"} */
export function chosenTheme() {
  const word = recall("theme");
  return word === "light" || word === "dark" ? word : "auto";
}

/**
 * The palette in use.
 * @returns {"light" | "dark"}
 */
export function theme() {
  const word = chosenTheme();
  if (word !== "auto") return word;
  return dark.matches ? "dark" : "light";
}

/** @param {string} word */
export function setTheme(word) {
  remember("theme", word);
  applyTheme();
}

/** Puts the palette on the document. */
export function applyTheme() {
  document.documentElement.dataset["theme"] = theme();
}

/** @param {() => void} listener */
export function onSystemTheme(listener) {
  dark.addEventListener("change", listener);
}
