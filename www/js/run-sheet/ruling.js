/**
 * Hatches as ruled lines within an outline: a printer draws them as sharp as everything else, where
 * patterns would become pictures of many megabytes.
 */

import { s } from "../dom.js";

/** @typedef {0 | 45 | 90 | 135} Angle */

/**
 * How a material is ruled: the angle of its lines, their distance, and how long dashes and gaps
 * are, in px. A dash without length is a dot.
 * @type {Readonly<Record<string, readonly (readonly [angle: Angle, step: number, dash?: number, gap?: number])[]>>}
 */
const RULINGS = {
  n_silicon: [[0, 11, 6, 9]],
  p_silicon: [[90, 11, 6, 9]],
  thermal_oxide: [[135, 9]],
  deposited_oxide: [[135, 8, 2, 5]],
  glass: [[135, 8, 2, 5]],
  phosphorus_glass: [[135, 8, 2, 5]],
  nitride: [[0, 6]],
  polysilicon: [[45, 4.5]],
  metal: [
    [45, 7],
    [135, 7],
  ],
  aluminum: [
    [45, 7],
    [135, 7],
  ],
  resist: [[45, 6, 0, 7]],
};

let clips = 0;

/**
 * Rules every material of a drawing anew.
 * @param {Element} drawing
 */
export function rule(drawing) {
  for (const area of drawing.querySelectorAll("g.material")) {
    const [fill, hatch] = area.children;
    const d = fill?.getAttribute("d") ?? "";
    const material = /\bm-(\w+)/.exec(area.getAttribute("class") ?? "")?.[1] ?? "";
    hatch?.remove();
    const rulings = RULINGS[material];
    const box = boxOf(d);
    if (!rulings || !box) continue;
    clips += 1;
    const id = `within-${clips}`;
    area.append(
      s("clipPath", { id }, s("path", { d })),
      ...rulings.map(([angle, step, dash = Infinity, gap = 0]) =>
        s("path", {
          d: lines(box, angle, step, dash, gap),
          class: "hatch-line",
          "clip-path": `url(#${id})`,
        }),
      ),
    );
  }
}

/** @typedef {{ left: number, top: number, right: number, bottom: number }} Box */

/**
 * @param {string} d of straight lines between absolute points
 * @returns {Box | null}
 */
function boxOf(d) {
  const numbers = (d.match(/-?[\d.]+(?:e-?\d+)?/g) ?? []).map(Number);
  if (numbers.length < 4) return null;
  const xs = numbers.filter((_, k) => k % 2 === 0);
  const ys = numbers.filter((_, k) => k % 2 === 1);
  return {
    left: Math.min(...xs),
    right: Math.max(...xs),
    top: Math.min(...ys),
    bottom: Math.max(...ys),
  };
}

/**
 * Parallel lines over a box, on the same ruling wherever the box lies. Dashes are lines of their
 * own, every other row between those of its neighbors: printers write them shorter so.
 * @param {Box} box
 * @param {Angle} angle
 * @param {number} step
 * @param {number} dash
 * @param {number} gap
 */
function lines({ left, top, right, bottom }, angle, step, dash, gap) {
  const turn = (angle * Math.PI) / 180;
  const [along, across] = [
    [Math.cos(turn), Math.sin(turn)],
    [-Math.sin(turn), Math.cos(turn)],
  ];
  const corners = [
    [left, top],
    [right, top],
    [right, bottom],
    [left, bottom],
  ];
  /** @param {number[]} way */
  const span = ([x = 0, y = 0]) => {
    const places = corners.map(([cx = 0, cy = 0]) => cx * x + cy * y);
    return /** @type {const} */ ([Math.min(...places), Math.max(...places)]);
  };
  const [from, to] = span(along);
  const [first, last] = span(across);
  /** @param {number} t @param {number} n */
  const at = (t, n) =>
    [0, 1].map((k) => (t * (along[k] ?? 0) + n * (across[k] ?? 0)).toFixed(1)).join(" ");
  let d = "";
  for (let row = Math.ceil(first / step); row * step <= last; row += 1) {
    const n = row * step;
    if (dash === Infinity) {
      d += `M${at(from, n)}L${at(to, n)}`;
      continue;
    }
    const period = dash + gap;
    const shift = row % 2 === 0 ? 0 : period / 2;
    for (let t = Math.floor(from / period) * period + shift; t <= to; t += period) {
      const [x = 0, y = 0] = [0, 1].map((k) => t * (along[k] ?? 0) + n * (across[k] ?? 0));
      const out = x < left - dash || x > right || y < top - dash || y > bottom + dash;
      if (!out) d += `M${at(t, n)}L${at(t + Math.max(dash, 0.1), n)}`;
    }
  }
  return d;
}
