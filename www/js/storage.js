/** Settings and work in progress in this browser; in memory where storage is refused. */

const PREFIX = "barewafer.";
/** @type {Map<string, string>} */
const memory = new Map();

/**
 * @param {string} key
 * @returns {string}
 */
export function recall(key) {
  try {
    return localStorage.getItem(PREFIX + key) ?? memory.get(key) ?? "";
  } catch {
    return memory.get(key) ?? "";
  }
}

/**
 * @param {string} key
 * @param {string} text
 */
export function remember(key, text) {
  memory.set(key, text);
  try {
    localStorage.setItem(PREFIX + key, text);
  } catch {
    // Storage is refused in some frames: the memory above serves until the page is closed.
  }
}

/** Erases everything this page has stored here. */
export function eraseAll() {
  memory.clear();
  try {
    const keys = Object.keys(localStorage).filter((key) => key.startsWith(PREFIX));
    for (const key of keys) localStorage.removeItem(key);
  } catch {
    // Nothing was stored where storage is refused.
  }
}
