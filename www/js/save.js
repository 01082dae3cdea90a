/** Files and links for taking results along. */

import { chartSvg, drawChart, pictureSvg } from "./lab.js";
import { csvOf } from "./table.js";

/** @typedef {import("./types.js").Chart} Chart */

/** Size of an exported figure in CSS pixels, and the density of its PNG. */
const WIDTH = 960;
const HEIGHT = 600;
const PIXEL_RATIO = 2;
const OPTIONS = /** @type {const} */ ({
  theme: "light",
  width: WIDTH,
  height: HEIGHT,
  pixelRatio: 1,
});

/**
 * @param {"csv" | "svg" | "png"} format
 * @param {Chart} chart
 * @param {Chart | null} ghost
 * @param {string} name
 */
export async function saveChart(format, chart, ghost, name) {
  const file = `${name}-${chart.id}.${format}`;
  if (format === "csv") {
    // A byte order mark tells spreadsheets that the file is UTF-8.
    download(new Blob(["\ufeff", csvOf(chart)], { type: "text/csv;charset=utf-8" }), file);
  } else if (format === "svg") {
    download(new Blob([chartSvg(chart, ghost, OPTIONS)], { type: "image/svg+xml" }), file);
  } else {
    const canvas = document.createElement("canvas");
    canvas.width = WIDTH * PIXEL_RATIO;
    canvas.height = HEIGHT * PIXEL_RATIO;
    drawChart(canvas, chart, ghost, { ...OPTIONS, pixelRatio: PIXEL_RATIO });
    const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/png"));
    if (!(blob instanceof Blob)) throw new Error("the browser could not make a PNG image");
    download(blob, file);
  }
  return file;
}

/**
 * @param {import("./types.js").Json} request
 * @param {string} name
 */
export function savePicture(request, name) {
  const file = `${name}-picture.svg`;
  download(new Blob([pictureSvg(request, "light")], { type: "image/svg+xml" }), file);
  return file;
}

/**
 * @param {Blob} blob
 * @param {string} file
 */
export function download(blob, file) {
  const url = URL.createObjectURL(blob);
  const link = document.createElement("a");
  link.href = url;
  link.download = file;
  link.click();
  // The browser reads the address after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}

/**
 * Copies a text; false if the browser refuses the clipboard.
 * @param {string} text
 */
export async function copy(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

/**
 * Puts a text where it can be copied by hand.
 * @param {string} text
 */
export function offer(text) {
  const field = document.getElementById("link-text");
  if (!(field instanceof HTMLInputElement)) return;
  field.hidden = false;
  field.value = text;
  field.select();
}
