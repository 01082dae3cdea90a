/**
 * Writes a scene's points as the text of SVG paths: in the worker, so that the page neither copies
 * ten thousand small lists nor writes paths while it draws.
 */

/** @typedef {import("./types.js").Scene} Scene */
/** @typedef {import("./types.js").Point} Point */

/** @param {Point[]} points */
export function path(points) {
  let d = "";
  for (const [x, y] of points) d += `${d === "" ? "M" : "L"}${x} ${y}`;
  return d;
}

/**
 * The scene with `d` in place of points; what has none stays.
 * @template {{ shapes: import("./types.js").Shape[] }} T
 * @param {T} scene
 * @returns {T}
 */
export function packed(scene) {
  const shapes = scene.shapes.map((shape) => {
    switch (shape.kind) {
      case "area":
      case "ground":
      case "tint":
        return { ...shape, d: `${path(shape.points)}Z`, points: [] };
      case "line":
        return { ...shape, d: path(shape.points), points: [] };
      case "strokes":
        return { ...shape, d: shape.lines.map(path).join(""), lines: [] };
      default:
        return shape;
    }
  });
  return { ...scene, shapes };
}
