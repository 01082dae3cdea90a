/** What a handle on the layout does to the flow when it has gone some way. */

import { figuresOf, layoutOf, sectionOf, snapped, tidy, withBox, withSection } from "./drawing.js";

/** @typedef {import("../types.js").FlowDoc} FlowDoc */
/** @typedef {import("./drawing.js").Box} Box */
/** @typedef {import("./drawing.js").Point} Point */
/**
 * @typedef {"from" | "to" | "line" | "body" | "0,1" | "2,1" | "0,3" | "2,3"} Handle
 *   the ends of the section line and the whole of it, the whole figure, and its corners by the
 *   places of their coordinates in the box
 */

/**
 * @param {FlowDoc} doc
 * @param {{ level: string, figure: number }} chosen
 * @param {Handle} handle
 * @param {Point} by in µm
 * @param {number} grid in µm
 * @returns {FlowDoc}
 */
export function dragged(doc, chosen, handle, [dx, dy], grid) {
  if (handle === "from" || handle === "to" || handle === "line") {
    const line = sectionOf(doc);
    const extent = layoutOf(doc).extent;
    if (handle === "line") {
      // Both ends go the same way, as far as the first one may.
      const [x, y] = step(line.from, [dx, dy], grid);
      const [mx, my] = [x - line.from[0], y - line.from[1]];
      /** @type {(end: Point) => Point} */
      const moved = ([px, py]) => [tidy(px + mx), tidy(py + my)];
      const [from, to] = [moved(line.from), moved(line.to)];
      const fits = [from, to].every((end) => isInside(end, extent));
      const didFit = [line.from, line.to].every((end) => isInside(end, extent));
      return fits || !didFit ? withSection(doc, { from, to }) : doc;
    }
    const end = step(line[handle], [dx, dy], grid);
    return withSection(doc, { ...line, [handle]: held(end, extent) });
  }
  const figure = figuresOf(doc, chosen.level)[chosen.figure];
  if (!figure) return doc;
  const { box } = figure;
  if (handle === "body") {
    const [x, y] = step([box[0], box[1]], [dx, dy], grid);
    const [mx, my] = [x - box[0], y - box[1]];
    return withBox(doc, chosen.level, chosen.figure, [x, y, tidy(box[2] + mx), tidy(box[3] + my)]);
  }
  const [i, j] = /** @type {[number, number]} */ (handle.split(",").map(Number));
  const moved = step([box[i] ?? 0, box[j] ?? 0], [dx, dy], grid);
  const sides = /** @type {[number, number, number, number]} */ ([...box]);
  // A side stays on its side of the other one.
  sides[i] =
    i === 0 ? Math.min(moved[0], tidy(box[2] - grid)) : Math.max(moved[0], tidy(box[0] + grid));
  sides[j] =
    j === 1 ? Math.min(moved[1], tidy(box[3] - grid)) : Math.max(moved[1], tidy(box[1] + grid));
  return withBox(doc, chosen.level, chosen.figure, sides);
}

/**
 * @param {Point} from
 * @param {Point} by
 * @param {number} grid
 * @returns {Point}
 */
function step([x, y], [dx, dy], grid) {
  // A coordinate that is not moved keeps its value, on the grid or not.
  return [dx === 0 ? x : snapped(x + dx, grid), dy === 0 ? y : snapped(y + dy, grid)];
}

/**
 * @param {Point} place
 * @param {Box} extent
 */
function isInside([x, y], [x0, y0, x1, y1]) {
  return x0 <= x && x <= x1 && y0 <= y && y <= y1;
}

/**
 * @param {Point} place
 * @param {Box} extent
 * @returns {Point}
 */
function held([x, y], [x0, y0, x1, y1]) {
  return [Math.min(Math.max(x, x0), x1), Math.min(Math.max(y, y0), y1)];
}
