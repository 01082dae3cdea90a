/**
 * Signs, drawn by us from plain shapes: the nine hazard pictograms as a black symbol on white in a
 * red diamond, and warning triangles for dangers that have no pictogram. Each is shown with its
 * name in words beside it, and every drawing of them, on the page and in print, is made here.
 */

import { h, s } from "./dom.js";

/**
 * Name in words, and the symbol: filled outlines (evenodd) in the box 24..76 of a 100 x 100 frame;
 * what follows `|` is drawn as a stroke.
 * @type {Readonly<Record<string, [string, string]>>}
 */
const SIGNS = {
  GHS01: [
    "explosive",
    "M32 60a14 14 0 1 1 28 0a14 14 0 1 1-28 0ZM47 23l4 17h-8ZM70 30l-9 17l-6-6ZM77 57l-14 4v-8ZM25 34l14 9l-7 6ZM70 76l-11-9l5-4Z",
  ],
  GHS02: [
    "flammable",
    "M53 20c2 10 15 15 15 29c0 11-8 18-18 18s-18-7-18-17c0-8 6-12 8-20c4 3 5 6 5 10c5-5 8-11 8-20ZM51 48c-3 4-7 6-7 11c0 4 3 6 6 6s7-2 7-7c0-4-4-6-6-10ZM36 71h28v4H36Z",
  ],
  GHS03: [
    "feeds fire",
    "M52 16c2 8 11 11 11 20c0 6-5 10-12 10s-13-4-13-11c0-6 4-8 6-13c3 2 3 5 3 7c4-4 5-8 5-13ZM35 59a15 13 0 1 1 30 0a15 13 0 1 1-30 0ZM42 59a8 6.500 0 1 0 16 0a8 6.500 0 1 0-16 0ZM38 75h24v3H38Z",
  ],
  GHS04: ["gas under pressure", "M26 61l32-27c5-4 10-3 13 1s3 9-2 13L37 74ZM71 32l6-5l5 7l-6 5Z"],
  GHS05: [
    "corrosive",
    "M25 33l17-9l2 4l2-1l2 4l-2 1l-19 9ZM75 33l-17-9l-2 4l-2-1l-2 4l2 1l19 9ZM38 40q4 5 0 6q-4-1 0-6ZM34 49q4 5 0 6q-4-1 0-6ZM62 40q4 5 0 6q-4-1 0-6ZM66 49q4 5 0 6q-4-1 0-6ZM23 58h7q4 5 8 0h8v8H23ZM78 57h-8q-4 4-7 0q-4 1-6 4l-5 1c-3 1-2 4 1 4h6l-1 2h-5c-3 1-3 4 0 4h11c6 0 9-4 14-6Z",
  ],
  GHS06: [
    "poison",
    "M50 18c-11 0-17 7-17 15c0 6 3 10 6 12v7h5v-4h3v4h6v-4h3v4h5v-7c3-2 6-6 6-12c0-8-6-15-17-15ZM42.500 31a4.500 4.500 0 1 0 .1 0ZM57.500 31a4.500 4.500 0 1 0 .1 0ZM50 39l-3 6h6Z|M34 58l32 12M66 58L34 70",
  ],
  GHS07: [
    "irritant or harmful",
    "M43 23h14l-3 36h-8ZM43.500 70a6.500 6.500 0 1 1 13 0a6.500 6.500 0 1 1-13 0Z",
  ],
  GHS08: [
    "long-term health hazard",
    "M41 28a9 9 0 1 1 18 0a9 9 0 1 1-18 0ZM30 70V54c0-9 6-14 15-14h10c9 0 15 5 15 14v16ZM50 42l3 9l8-6l-4 9l10 2l-10 3l5 9l-9-5l-3 7l-3-7l-9 5l5-9l-10-3l10-2l-4-9l8 6Z",
  ],
  GHS09: [
    "harms water life",
    "M28 67h44v4H28ZM52 58c6-8 15-9 21-2l5-5v13l-5-5c-6 6-15 6-21-1ZM59 55a2 2 0 1 0 .1 0Z|M40 67V27M40 54L29 43M40 46l10-11M40 37l-7-8",
  ],
};

/**
 * Warning signs by their number in ISO 7010 (from memory), drawn in the triangle's box.
 * @type {Readonly<Record<string, [string, string]>>}
 */
const WARNINGS = {
  W003: [
    "ionizing radiation",
    "M44.500 63a5.500 5.500 0 1 1 11 0a5.500 5.500 0 1 1-11 0ZM42 49a16 16 0 0 1 16 0l-4 7a8 8 0 0 0-8 0ZM66 63a16 16 0 0 1-8 14l-4-7a8 8 0 0 0 4-7ZM34 63a16 16 0 0 0 8 14l4-7a8 8 0 0 1-4-7Z",
  ],
  W010: [
    "low temperature",
    "|M50 44v36M34.400 53l31.200 18M34.400 71l31.200-18M45 46l5 5l5-5M45 78l5-5l5 5M35 60l6-2l-1-6M65 64l-6 2l1 6M35 64l6 2l-1 6M65 60l-6-2l1-6",
  ],
  W012: ["electricity", "M55 38L42 63h8l-5 19l15-24h-9Z"],
  W017: [
    "hot surface",
    "M28 76h44v5H28Z|M37 70c-5-6 5-9 0-15M50 70c-5-7 5-12 0-20M63 70c-5-6 5-9 0-15",
  ],
  W027: [
    "optical radiation",
    "M42 64a8 8 0 1 1 16 0a8 8 0 1 1-16 0Z|M50 52v-9M50 76v6M38 64h-7M62 64h7M41.500 55.500l-5-5M58.500 55.500l5-5M41.500 72.500l-5 5M58.500 72.500l5 5",
  ],
  "": [
    "equipment hazard",
    "M45.500 40h9l-2.500 25h-4ZM45.500 75a4.500 4.500 0 1 1 9 0a4.500 4.500 0 1 1-9 0Z",
  ],
};

/**
 * @param {string} kind of the frame
 * @param {string} frame
 * @param {[string, string]} sign
 */
function draw(kind, frame, [name, symbol]) {
  const [filled = "", lines = ""] = symbol.split("|");
  const svg = s(
    "svg",
    { viewBox: "0 0 100 100", class: "ghs", "aria-hidden": "true", focusable: "false" },
    s("path", { d: frame, class: `${kind}-frame` }),
    s("path", { d: filled, "fill-rule": "evenodd", class: "ghs-fill" }),
    s("path", { d: lines, class: `ghs-stroke ${kind}-stroke` }),
  );
  return h("span", { class: "pictogram" }, svg, h("span", {}, name));
}

/**
 * A pictogram with its name; null for codes that are none.
 * @param {string} code
 * @returns {HTMLElement | null}
 */
export function pictogram(code) {
  const sign = SIGNS[code];
  return sign ? draw("ghs", "M50 4L96 50L50 96L4 50Z", sign) : null;
}

/**
 * The warning triangle of a danger without pictogram, with its name.
 * @param {string} number
 */
export function triangle(number) {
  const sign = WARNINGS[number] ?? WARNINGS[""];
  return draw("warn", "M50 10L96 90H4Z", /** @type {[string, string]} */ (sign));
}

/**
 * All signs of a caution; one without any gets the plain triangle.
 * @param {{ ghs_pictograms: string[], warning_signs: string[] }} row
 */
export function signsOf(row) {
  const labels = row.ghs_pictograms.map(pictogram).filter((sign) => sign !== null);
  const all = [...labels, ...row.warning_signs.map(triangle)];
  return h("p", { class: "signs" }, ...(all.length > 0 ? all : [triangle("")]));
}
