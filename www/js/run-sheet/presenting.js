/**
 * What a lecture needs of the Run sheet: a handout to print, slides, a frame for pages of others,
 * files of what is seen. Each is loaded when it is first asked for; this is their door.
 */

import { alertNow } from "../announce.js";
import { detailsOf } from "../lab.js";
import { copy } from "../save.js";
import { frameText, isEmbedded, openLink } from "./embed.js";

/** @typedef {import("./types.js").State} State */
/**
 * @typedef {object} Room what the page lends
 * @property {import("./store.js").Store} store
 * @property {import("./run.js").Run} run
 * @property {import("./view.js").View} view
 * @property {(text: string) => void} say
 * @property {() => string | null} address the fragment of what is in view
 */

/** When nothing has happened for so long, what a printer needs is made ready. */
const REST_MS = 4000;

/** Files by the id of their button: what is saved, and how. */
/** @type {readonly (readonly [what: import("./export.js").What, format: "svg" | "png" | "json" | "csv"])[]} */
const FILES = [
  ["section", "svg"],
  ["section", "png"],
  ["layout", "svg"],
  ["layout", "png"],
  ["report", "json"],
  ["report", "csv"],
  ["measurements", "json"],
  ["measurements", "csv"],
];

/** @param {Room} room */
export function presenting(room) {
  const { store, say } = room;
  const embedded = isEmbedded();
  /** @type {import("./handout.js").Handout | null} */
  let handout = null;
  /** @type {import("./slides.js").Slides | null} */
  let slides = null;
  let timer = 0;

  async function loadHandout() {
    const { Handout } = await import("./handout.js");
    handout ??= new Handout(room);
    return handout;
  }

  async function loadSlides() {
    const { Slides } = await import("./slides.js");
    slides ??= new Slides(room);
    return slides;
  }

  /** @param {State} state */
  function show(state) {
    const { show: wanted } = state;
    document.documentElement.dataset["show"] = wanted;
    // A frame shows a step, never the whole flow.
    if (wanted === "handout" && !embedded) {
      loadHandout().then((it) => it.open(), failed);
    } else handout?.close();
    if (wanted === "slides" && !embedded) loadSlides().then((it) => it.open(), failed);
    else slides?.close();
  }

  /** @param {unknown} thrown */
  function failed(thrown) {
    alertNow(`This part of the page could not be loaded. ${detailsOf(thrown)}`);
    store.dispatch({ kind: "show", show: "" });
  }

  /**
   * @param {State} state
   * @param {State} before
   */
  function follow(state, before) {
    if (state.show !== before.show) show(state);
    if (state.show === "slides") slides?.follow(state, before);
    if (state.show === "handout") handout?.follow(state, before);
    if (embedded) openLink(room.address());
    // The browser's own print command waits for nobody: what it needs is there beforehand.
    if (state.summary !== before.summary && !embedded) void loadHandout().catch(() => undefined);
    clearTimeout(timer);
    if (state.summary === null || embedded) return;
    timer = window.setTimeout(() => {
      if (store.state.show !== "slides")
        loadHandout().then(
          (it) => it.prepare(),
          () => undefined,
        );
    }, REST_MS);
  }

  async function copyFrame() {
    const address = room.address();
    if (address === null) {
      say("This flow is too long for a link, so no frame can show it.");
      return;
    }
    const text = frameText(address, store.state);
    const field = document.getElementById("link-text");
    if (field instanceof HTMLInputElement) {
      field.hidden = false;
      field.value = text;
      field.setAttribute("aria-label", "Frame that shows this step in another page");
    }
    if (await copy(text)) say("Frame copied: paste it into a page of yours.");
    else {
      if (field instanceof HTMLInputElement) field.select();
      say("The browser refused the clipboard: copy the selected text.");
    }
  }

  /**
   * @param {import("./export.js").What} what
   * @param {"svg" | "png" | "json" | "csv"} format
   */
  async function save(what, format) {
    try {
      const { saveFile } = await import("./export.js");
      say(`Saved ${await saveFile(what, format, store.state)}`);
    } catch (thrown) {
      alertNow(`The file could not be made. ${detailsOf(thrown)}`);
    }
  }

  window.addEventListener("beforeprint", () => handout?.beforePrint());
  window.addEventListener("afterprint", () => handout?.afterPrint());

  /** @type {Record<string, () => void>} */
  const buttons = {
    "show-handout": () => store.dispatch({ kind: "show", show: "handout" }),
    "show-slides": () => store.dispatch({ kind: "show", show: "slides" }),
    "leave-handout": () => {
      store.dispatch({ kind: "show", show: "" });
      document.getElementById("show-handout")?.focus();
    },
    "print-handout": () => void loadHandout().then((it) => it.print(), failed),
    "copy-frame": () => void copyFrame(),
  };
  for (const [what, format] of FILES) {
    buttons[`save-${what}-${format}`] = () => void save(what, format);
  }
  return { buttons, follow, embedded };
}
