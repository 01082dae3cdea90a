/**
 * Hazard pictograms, drawn freely from geometry: a black symbol on white in a red diamond. Each is
 * shown with its name in words beside it. Physical hazards have no such sign and get a plain
 * warning triangle.
 */

import { h, s } from "./dom.js";

/** @type {Readonly<Record<string, string>>} */
const NAMES = {
  GHS01: "explosive",
  GHS02: "flammable",
  GHS03: "feeds fire",
  GHS04: "gas under pressure",
  GHS05: "corrosive",
  GHS06: "poison",
  GHS07: "irritant or harmful",
  GHS08: "long-term health hazard",
  GHS09: "harms water life",
};

/** Filled outlines (evenodd) inside the box 24..76 of a 100 x 100 frame. */
/** @type {Readonly<Record<string, string[]>>} */
const SYMBOLS = {
  GHS01: [
    "M38 58a13 13 0 1 1 26 0a13 13 0 1 1-26 0Z",
    "M50 26l3 12 8-9-2 13 12-5-9 10 12 2-11 4M28 40l8 4M27 66l8-3M72 70l-8-4M50 78v-6",
  ],
  GHS02: [
    "M51 24c3 9 15 15 14 29c0 10-7 16-15 16s-15-6-15-15c0-7 5-11 8-17c2 4 3 6 4 9c4-6 6-13 4-22Z M50 45c4 5 7 8 6 14c-1 4-3 6-6 6s-6-3-6-7c0-5 5-7 6-13Z",
    "M32 73h36v4H32Z",
  ],
  GHS03: [
    "M51 22c3 7 11 11 10 20c0 6-5 10-11 10s-11-4-11-10c0-5 4-8 6-12c1 3 2 4 3 6c2-4 4-8 3-14Z",
    "M36 64a14 14 0 1 1 28 0a14 14 0 1 1-28 0Z M42 64a8 8 0 1 0 16 0a8 8 0 1 0-16 0Z",
    "M34 78h32v3H34Z",
  ],
  GHS04: ["M25 62l34-26c4-3 8-3 11 1l3 4l3-2l2 3l-12 9l2 3l-34 26Z"],
  GHS05: [
    "M27 36l14-8l3 5l-14 8ZM56 33l3-5l14 8l-3 5Z",
    "M37 42v5M42 40v9M61 42v5M66 44v5",
    "M26 58h19c2 2 1 5 4 5v4H26Z M55 62c6 0 11-4 16-4l4 3c-5 3-9 9-18 9h-6c0-4 1-7 4-8Z",
    "M26 72h48v4H26Z",
  ],
  GHS06: [
    "M50 24c-11 0-16 7-16 15c0 6 3 9 6 11v7h20v-7c3-2 6-5 6-11c0-8-5-15-16-15Z M43 36a4.500 4.500 0 1 0 .1 0Z M57 36a4.500 4.500 0 1 0 .1 0Z M50 45l-3 6h6Z",
    "M29 60l42 14M71 60l-42 14",
  ],
  GHS07: ["M44 24h12l-3 34h-6Z", "M44.500 69a5.500 5.500 0 1 1 11 0a5.500 5.500 0 1 1-11 0Z"],
  GHS08: [
    "M42 30a8 8 0 1 1 16 0a8 8 0 1 1-16 0Z",
    "M30 76V54c0-8 6-13 14-13h12c8 0 14 5 14 13v22Z M50 46l3 9l9-4l-4 8l8 4l-9 2l2 9l-7-6l-7 7l1-10l-9-1l8-5l-5-8l9 3Z",
  ],
  GHS09: [
    "M24 70h52v3H24Z",
    "M40 70V44l-8-9M40 52l9-11M40 44V28M40 36l6-6",
    "M50 64c6-8 14-8 20-2l6-5v13l-6-5c-6 5-14 5-20-1Z M57 62a2 2 0 1 0 .1 0Z",
  ],
};

/** Symbols whose later paths are strokes, by index. */
/** @type {Readonly<Record<string, number[]>>} */
const STROKES = { GHS01: [1], GHS05: [1], GHS06: [1], GHS09: [1] };

/**
 * A pictogram with its name; null for codes that are none (equipment hazards).
 * @param {string} code
 * @returns {HTMLElement | null}
 */
export function pictogram(code) {
  const name = NAMES[code];
  const symbol = SYMBOLS[code];
  if (!name || !symbol) return null;
  const svg = s(
    "svg",
    { viewBox: "0 0 100 100", class: "ghs", "aria-hidden": "true", focusable: "false" },
    s("path", { d: "M50 4L96 50L50 96L4 50Z", class: "ghs-frame" }),
    ...symbol.map((d, k) =>
      s("path", {
        d,
        "fill-rule": "evenodd",
        class: STROKES[code]?.includes(k) ? "ghs-stroke" : "ghs-fill",
      }),
    ),
  );
  return h("span", { class: "pictogram" }, svg, h("span", {}, name));
}

/** What the warning signs of equipment say, by their number in ISO 7010 (from memory). */
/** @type {Readonly<Record<string, string>>} */
const WARNINGS = {
  W003: "ionizing radiation",
  W010: "low temperature",
  W012: "electricity",
  W017: "hot surface",
  W027: "optical radiation",
};

/**
 * The plain sign of an equipment hazard, with its name; one drawing serves all.
 * @param {string} number
 */
export function triangle(number) {
  const svg = s(
    "svg",
    { viewBox: "0 0 100 100", class: "ghs", "aria-hidden": "true", focusable: "false" },
    s("path", { d: "M50 12L94 88H6Z", class: "warn-frame" }),
    s("path", {
      d: "M46 40h8l-2 26h-4Z M46.5 75a3.5 3.5 0 1 1 7 0a3.5 3.5 0 1 1-7 0Z",
      class: "ghs-fill",
    }),
  );
  const name = WARNINGS[number] ?? "equipment hazard";
  return h("span", { class: "pictogram" }, svg, h("span", {}, name));
}
