/** What of a flow file is drawn: figures, section line, overlay errors, and changes of them. */

/** @typedef {import("../types.js").FlowDoc} FlowDoc */
/** @typedef {readonly [number, number]} Point x and y in µm */
/** @typedef {readonly [number, number, number, number]} Box x1, y1, x2, y2 in µm */
/** @typedef {{ from: Point, to: Point }} Line */
/** @typedef {{ kind: "rectangle" | "polygon", box: Box, corners: number }} Figure */
/**
 * @typedef {{ level: string, rectangles?: Box[], polygons?: Point[][],
 *   overlay_um?: { x?: number, y?: number } }} Mask
 * @typedef {{ extent: Box, masks: Mask[] }} Layout
 * @typedef {{ x?: number, y?: number }} Overlay
 */

/** The ends of the section line and the sides of a figure, as fields name them. */
export const LINE_PARTS = /** @type {const} */ (["from-x", "from-y", "to-x", "to-y"]);
export const BOX_PARTS = /** @type {const} */ (["x1", "y1", "x2", "y2"]);

/**
 * The layout, once the kernel has read it without complaint.
 * @param {FlowDoc} doc
 */
export function layoutOf(doc) {
  return /** @type {Layout} */ (doc["layout"]);
}

/** @param {FlowDoc} doc */
export function sectionOf(doc) {
  return /** @type {Line} */ (doc["section"]);
}

/**
 * @param {FlowDoc} doc
 * @param {Line} line
 * @returns {FlowDoc}
 */
export function withSection(doc, line) {
  return { ...doc, section: line };
}

/**
 * @param {FlowDoc} doc
 * @param {string} level
 * @returns {Figure[]} the rectangles first, then the polygons
 */
export function figuresOf(doc, level) {
  const mask = layoutOf(doc).masks.find((one) => one.level === level);
  return [
    ...(mask?.rectangles ?? []).map((box) => ({
      kind: /** @type {const} */ ("rectangle"),
      box,
      corners: 4,
    })),
    ...(mask?.polygons ?? []).map((corners) => ({
      kind: /** @type {const} */ ("polygon"),
      box: boundsOf(corners),
      corners: corners.length,
    })),
  ];
}

/**
 * @param {readonly Point[]} corners
 * @returns {Box}
 */
function boundsOf(corners) {
  const [x, y] = [corners.map(([x]) => x), corners.map(([, y]) => y)];
  return [Math.min(...x), Math.min(...y), Math.max(...x), Math.max(...y)];
}

/**
 * @param {FlowDoc} doc
 * @param {string} level
 * @param {(mask: Mask) => Mask} change
 * @returns {FlowDoc}
 */
function withMask(doc, level, change) {
  const layout = layoutOf(doc);
  const masks = layout.masks.map((mask) => (mask.level === level ? change(mask) : mask));
  return { ...doc, layout: { ...layout, masks } };
}

/**
 * Moves a figure so that its box begins elsewhere; a rectangle can get another size too.
 * @param {FlowDoc} doc
 * @param {string} level
 * @param {number} figure by its place in {@link figuresOf}
 * @param {Box} box
 */
export function withBox(doc, level, figure, box) {
  return withMask(doc, level, (mask) => {
    const { rectangles = [], polygons = [] } = mask;
    if (figure < rectangles.length) return { ...mask, rectangles: rectangles.with(figure, box) };
    const k = figure - rectangles.length;
    const old = polygons[k];
    if (!old) return mask;
    const [x, y] = boundsOf(old);
    const moved = old.map(
      ([px, py]) => /** @type {const} */ ([tidy(px + box[0] - x), tidy(py + box[1] - y)]),
    );
    return { ...mask, polygons: polygons.with(k, moved) };
  });
}

/**
 * A new rectangle behind the others.
 * @param {FlowDoc} doc
 * @param {string} level
 * @param {Box} box
 */
export function withNew(doc, level, box) {
  return withMask(doc, level, (mask) => ({
    ...mask,
    rectangles: [...(mask.rectangles ?? []), box],
  }));
}

/**
 * @param {FlowDoc} doc
 * @param {string} level
 * @param {number} figure
 */
export function without(doc, level, figure) {
  return withMask(doc, level, (mask) => {
    const { rectangles = [], polygons = [] } = mask;
    return figure < rectangles.length
      ? { ...mask, rectangles: rectangles.toSpliced(figure, 1) }
      : {
          ...mask,
          polygons: polygons.toSpliced(figure - rectangles.length, 1),
        };
  });
}

/**
 * A second figure like one, some way to the right and down.
 * @param {FlowDoc} doc
 * @param {string} level
 * @param {number} figure
 * @param {number} by in µm
 * @returns {{ doc: FlowDoc, figure: number }}
 */
export function withCopy(doc, level, figure, by) {
  const one = figuresOf(doc, level)[figure];
  if (!one) return { doc, figure };
  const [x1, y1, x2, y2] = one.box;
  /** @type {Box} */
  const box = [tidy(x1 + by), tidy(y1 - by), tidy(x2 + by), tidy(y2 - by)];
  if (one.kind === "rectangle") {
    const added = withNew(doc, level, box);
    return {
      doc: added,
      figure: figuresOf(added, level).filter(({ kind }) => kind === one.kind).length - 1,
    };
  }
  const doubled = withMask(doc, level, (mask) => {
    const { rectangles = [], polygons = [] } = mask;
    return {
      ...mask,
      polygons: [...polygons, polygons[figure - rectangles.length] ?? []],
    };
  });
  const last = figuresOf(doubled, level).length - 1;
  return { doc: withBox(doubled, level, last, box), figure: last };
}

/**
 * The overlay errors with which a level is printed, by step.
 * @param {FlowDoc} doc
 * @param {string} level
 * @returns {{ step: number, id: string, x: number, y: number }[]}
 */
export function overlaysOf(doc, level) {
  const own = layoutOf(doc).masks.find((mask) => mask.level === level)?.overlay_um;
  return doc.steps.flatMap(({ id, step }, k) => {
    if (step["operation"] !== "exposure" || step["mask_level"] !== level) return [];
    const given = /** @type {Overlay | undefined} */ (step["overlay_um"]) ?? own ?? {};
    return [{ step: k, id, x: given.x ?? 0, y: given.y ?? 0 }];
  });
}

/**
 * Prints a level so far off its place in every exposure of it.
 * @param {FlowDoc} doc
 * @param {string} level
 * @param {"x" | "y"} axis
 * @param {number} value
 * @returns {FlowDoc}
 */
export function withOverlay(doc, level, axis, value) {
  const prints = new Map(overlaysOf(doc, level).map((print) => [print.step, print]));
  const steps = doc.steps.map((old, k) => {
    const print = prints.get(k);
    if (!print || print[axis] === value) return old;
    const overlay_um = { x: print.x, y: print.y, [axis]: value };
    return { ...old, step: { ...old.step, overlay_um } };
  });
  return { ...doc, steps };
}

/**
 * Only what is drawn, as the kernel reads it while a figure is being dragged.
 * @param {FlowDoc} doc
 */
export function drawnText({ layout, section, rules, steps }) {
  return JSON.stringify({
    layout,
    section,
    rules,
    steps: steps.map(({ step: { operation, mask_level, overlay_um } }) =>
      operation === "exposure" ? { step: { operation, mask_level, overlay_um } } : null,
    ),
  });
}

/**
 * A length without the dust of binary fractions.
 * @param {number} um
 */
export function tidy(um) {
  return Number(um.toFixed(6));
}

/**
 * The nearest place on a grid.
 * @param {number} um
 * @param {number} grid
 */
export function snapped(um, grid) {
  return tidy(Math.round(um / grid) * grid);
}

/** A new rectangle is so many steps of the grid wide and high. */
const NEW_STEPS = 40;

/**
 * A small rectangle on the grid in the middle of a layout.
 * @param {readonly [number, number, number, number]} extent
 * @param {number} grid in µm
 * @returns {Box}
 */
export function middleBox([x0, y0, x1, y1], grid) {
  const size = Math.min(NEW_STEPS * grid, (x1 - x0) / 4, (y1 - y0) / 4);
  /** @type {(middle: number) => [number, number]} */
  const around = (middle) => {
    const from = snapped(middle - size / 2, grid);
    return [from, tidy(from + Math.max(grid, snapped(size, grid)))];
  };
  const [[left, right], [low, high]] = [around((x0 + x1) / 2), around((y0 + y1) / 2)];
  return [left, low, right, high];
}

/**
 * A rectangle on the grid, at least one step of it wide and high.
 * @param {Box} box
 * @param {number} grid in µm
 * @returns {Box}
 */
export function snappedBox([x1, y1, x2, y2], grid) {
  const [x, y] = [snapped(x1, grid), snapped(y1, grid)];
  const far = (/** @type {number} */ from, /** @type {number} */ to) =>
    Math.max(snapped(to, grid), tidy(from + grid));
  return [x, y, far(x, x2), far(y, y2)];
}

/**
 * The section line with another value of one of its numbers.
 * @param {FlowDoc} doc
 * @param {string} part of {@link LINE_PARTS}
 * @param {number} value in µm
 * @returns {{ from: Point, to: Point }}
 */
export function lineWith(doc, part, value) {
  const { from, to } = sectionOf(doc);
  const at = LINE_PARTS.findIndex((one) => one === part);
  const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = [...from, ...to].with(at, value);
  return { from: [x1, y1], to: [x2, y2] };
}

/**
 * A rectangle with another value of one of its numbers.
 * @param {Box} box
 * @param {string} part of {@link BOX_PARTS}
 * @param {number} value in µm
 * @returns {Box}
 */
export function boxWith(box, part, value) {
  const at = BOX_PARTS.findIndex((one) => one === part);
  const [x1 = 0, y1 = 0, x2 = 0, y2 = 0] = [...box].with(at, value);
  return [x1, y1, x2, y2];
}
