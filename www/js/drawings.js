/** Small line drawings of the benches, in ink and one amber line. */

import { s } from "./dom.js";

/** @type {Readonly<Record<string, { ink: string[], amber: string[] }>>} */
const LINES = {
  // A quartz tube with heater turns around it and a boat of standing wafers inside.
  furnace: {
    ink: ["M4 10H52M4 26H52M52 10q4 0 4 8t-4 8M4 10q-3 0-3 8t3 8", "M20 23H44"],
    amber: ["M12 6v3M20 6v3M28 6v3M36 6v3M44 6v3M12 27v3M20 27v3M28 27v3M36 27v3M44 27v3"],
  },
  // A disc on a shaft, its turning direction, a drop above it.
  spinner: {
    ink: ["M6 22a24 5 0 1 0 48 0a24 5 0 1 0-48 0", "M28 27v6h4v-6"],
    amber: ["M30 3q5 6 0 9q-5-3 0-9", "M46 14q8 1 10 5l-3-1M56 19l1-3"],
  },
  // A mask above a wafer, light through its opening that spreads a little.
  aligner: {
    ink: ["M6 9H24V13H6ZM36 9H54V13H36Z", "M6 28H54M6 32H54"],
    amber: ["M30 2v6M26 13L22 27M30 13V27M34 13L38 27"],
  },
  // Two lines of resist with a puddle of developer between and above them.
  developer: {
    ink: ["M4 31H56", "M8 31L10 16H22L24 31M36 31L38 16H50L52 31"],
    amber: ["M4 10q6-4 13 0t13 0t13 0t13 0M30 15v11l-3-3m3 3l3-3"],
  },
  // A tank with a liquid surface and a wafer held upright in it.
  "wet-bench": {
    ink: ["M8 8v22h44V8M24 2v8M36 2v8", "M22 18a8 8 0 1 0 16 0a8 8 0 1 0-16 0"],
    amber: ["M8 14q4-3 8 0t8 0M36 14q4-3 8 0t8 0"],
  },
  // A trench in section under a film that follows it.
  deposition: {
    ink: ["M4 18H22V31H38V18H56", "M12 2v5M30 2v8M48 2v5"],
    amber: ["M4 13H24q3 0 3 3V27H33V16q0-3 3-3H56"],
  },
  // Two plates in a chamber, a wafer on the lower one, ions falling straight down.
  "dry-etcher": {
    ink: ["M6 4H54V30H6Z", "M16 9H44M16 26H44", "M22 24H38"],
    amber: ["M22 12v8l-2-3m2 3l2-3M30 12v8l-2-3m2 3l2-3M38 12v8l-2-3m2 3l2-3"],
  },
  // A turning pad with a wafer pressed on it from above.
  polisher: {
    ink: [
      "M4 24a26 5 0 1 0 52 0a26 5 0 1 0-52 0",
      "M12 20a11 2.5 0 1 0 22 0a11 2.5 0 1 0-22 0M23 4v13",
    ],
    amber: ["M19 10l4 5l4-5", "M44 13q8 1 10 5l-3-1M54 18l1-3"],
  },
  // A wafer surface with a profile falling into the depth.
  "diffusion-tube": {
    ink: ["M6 8H54M6 8V31M54 8V31", "M12 3v3M20 3v3M28 3v3M36 3v3M44 3v3"],
    amber: ["M10 12H50M14 16H46M20 20H40M27 24H33"],
  },
  // A bent beam that falls on a wafer.
  implanter: {
    ink: ["M3 6H18M3 12H16M18 6q14 0 16 12M16 12q10 0 12 8", "M12 30H50"],
    amber: ["M28 20v8M34 18v10M31 22v6"],
  },
  // Four needles in line on a wafer, the current through the outer two.
  "four-point": {
    ink: [
      "M4 24H56M4 31H56M4 24v7M56 24v7",
      "M12 5l3 18l3-18zM22 5l3 18l3-18zM34 5l3 18l3-18zM44 5l3 18l3-18z",
    ],
    amber: ["M15 25q0 3 5 3h22q5 0 5-3M30 26l3 2l-3 2"],
  },
};

/**
 * @param {string} bench
 * @returns {SVGSVGElement}
 */
export function drawingOf(bench) {
  const lines = LINES[bench] ?? { ink: [], amber: [] };
  return s(
    "svg",
    { class: "drawing", viewBox: "0 0 60 34", "aria-hidden": "true", focusable: "false" },
    ...lines.ink.map((d) => s("path", { d, class: "ink" })),
    ...lines.amber.map((d) => s("path", { d, class: "amber" })),
  );
}
