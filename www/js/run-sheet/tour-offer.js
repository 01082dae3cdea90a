/** Offers the tour on a first visit, and starts it; the tour itself is loaded when it is wished. */

import { alertNow } from "../announce.js";
import { detailsOf } from "../lab.js";
import { recall, remember } from "../storage.js";

const KEY = "tour";

/** @returns {Record<string, () => void>} */
export function tourButtons() {
  const offer = document.getElementById("tour-offer");
  document.getElementById("show-around")?.removeAttribute("hidden");
  // A figure in somebody's slides is not a first visit.
  if (recall(KEY) === "" && window.self === window.top) offer?.removeAttribute("hidden");

  /** Not again, unless somebody asks for it. */
  function settled() {
    remember(KEY, "seen");
    offer?.setAttribute("hidden", "");
  }

  async function start() {
    settled();
    try {
      const { showAround } = await import("./tour.js");
      showAround(document.getElementById("show-around"));
    } catch (thrown) {
      alertNow(`The tour could not be loaded. ${detailsOf(thrown)}`);
    }
  }

  return {
    "show-around": () => void start(),
    "take-tour": () => void start(),
    "no-tour": () => {
      settled();
      document.getElementById("show-around")?.focus();
    },
  };
}
