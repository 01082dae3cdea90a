/**
 * The small sections of the traveller, each on a canvas of its own: a list of eighty of them is
 * scrolled through while the steps go by, and as elements they would be ten thousand.
 */

import { h } from "../dom.js";

/** @typedef {import("../types.js").Scene} Scene */
/** @typedef {import("../types.js").Shape} Shape */

/** Its size in CSS pixels, and how dense its pixels can be. */
const WIDTH = 320;
const HEIGHT = 56;
const DENSEST = 2;

/** Widths of strokes in CSS pixels. */
const OUTLINE = 0.75;
/** @type {Readonly<Record<string, number>>} */
const LINES = { section: 2, mark: 1 };

/** The ink of lines on materials, which are the same in both themes. */
const INK = "#20242a";

/**
 * Fill and outline of each material, as the style sheet has them.
 * @type {Map<string, { fill: string, line: string }>}
 */
const looks = new Map();

/** @param {string} material */
function lookOf(material) {
  const known = looks.get(material);
  if (known) return known;
  const sample = h("span", {
    class: `m-${material.replace(/[^a-z_]/g, "")}`,
    hidden: "",
  });
  document.body.append(sample);
  const style = getComputedStyle(sample);
  const look = {
    fill: style.getPropertyValue("--material") || "transparent",
    line: style.getPropertyValue("--material-line") || INK,
  };
  sample.remove();
  looks.set(material, look);
  return look;
}

/** An empty one. */
export function blankThumbnail() {
  const density = Math.min(DENSEST, Math.max(1, Math.ceil(devicePixelRatio)));
  return h("canvas", {
    class: "thumbnail",
    width: String(WIDTH * density),
    height: String(HEIGHT * density),
    "aria-hidden": "true",
  });
}

/**
 * @param {HTMLCanvasElement} canvas
 * @param {Scene | null} scene
 */
export function drawThumbnail(canvas, scene) {
  // Eighty canvases are no work for a graphics card.
  const context = canvas.getContext("2d", { willReadFrequently: true });
  if (!context) return;
  context.clearRect(0, 0, canvas.width, canvas.height);
  if (!scene) return;
  const px = canvas.width / WIDTH;
  const scale = new DOMMatrix([
    canvas.width / scene.width,
    0,
    0,
    canvas.height / scene.height,
    0,
    0,
  ]);
  context.lineJoin = "round";
  for (const shape of scene.shapes) {
    if (!("d" in shape) || shape.d === undefined) continue;
    const path = new Path2D();
    path.addPath(new Path2D(shape.d), scale);
    if (shape.kind === "area" || shape.kind === "ground") {
      const { fill, line } = lookOf(shape.material);
      context.fillStyle = fill;
      context.fill(path);
      context.strokeStyle = line;
      context.lineWidth = OUTLINE * px;
      if (shape.kind === "area") context.stroke(path);
    } else if (shape.kind === "tint") {
      context.globalAlpha = shape.opacity;
      context.fillStyle = shape.color;
      context.fill(path);
      context.globalAlpha = 1;
    } else if (shape.kind === "line" || shape.kind === "strokes") {
      context.strokeStyle = INK;
      context.lineWidth = (LINES[shape.style] ?? 1) * px;
      context.stroke(path);
    }
  }
}
