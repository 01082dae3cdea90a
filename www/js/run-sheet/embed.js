/** A frame that shows one step of a flow in a page of somebody else. */

import { factOf } from "./view.js";

/** @typedef {import("./types.js").State} State */

/** Its size in CSS pixels: the section, the way through the steps, the first cautions. */
const WIDTH = 960;
const HEIGHT = 760;

/**
 * What a frame may do: run the lab's own scripts, use its own worker, open the lab, and nothing in
 * the page around it. It works without `allow-same-origin`, too, but computes on its own then.
 */
const SANDBOX = "allow-scripts allow-same-origin allow-popups allow-popups-to-escape-sandbox";

/** Whether this page stands in such a frame. */
export function isEmbedded() {
  return new URLSearchParams(location.search).get("embed") === "1";
}

/** Takes away what a frame does not show, before anything is seen. */
export function bare() {
  if (isEmbedded()) document.documentElement.dataset["embed"] = "";
}

/**
 * The way from the frame to the same view in the lab.
 * @param {string | null} fragment
 */
export function openLink(fragment) {
  const link = document.getElementById("open-lab");
  if (link instanceof HTMLAnchorElement) link.href = `${here()}${fragment ?? ""}`;
}

/** The address of this page without query and fragment. */
function here() {
  return `${location.origin === "null" ? "" : location.origin}${location.pathname}`;
}

/**
 * The frame's text for a page of others.
 * @param {string} fragment
 * @param {State} state
 */
export function frameText(fragment, state) {
  const name = factOf(state, state.step)?.name ?? "";
  const title = `${state.facts?.title ?? state.doc?.flow ?? "Flow"}, step ${state.step + 1}: ${name}`;
  const source = `${here()}?embed=1${fragment.replace(/&show=\w+/, "")}`;
  const attributes = [
    ["src", source],
    ["title", title],
    ["width", String(WIDTH)],
    ["height", String(HEIGHT)],
    ["loading", "lazy"],
    ["sandbox", SANDBOX],
    ["allow", "fullscreen"],
  ];
  return `<iframe ${attributes.map(([name, value = ""]) => `${name}="${escaped(value)}"`).join(" ")}></iframe>`;
}

/** @param {string} text */
function escaped(text) {
  return text
    .replaceAll("&", "&amp;")
    .replaceAll('"', "&quot;")
    .replaceAll("<", "&lt;")
    .replaceAll(">", "&gt;");
}
