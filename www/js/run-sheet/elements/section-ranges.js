/** Which part of a section is in view: zoomed, moved, or with its heights drawn larger. */

/** @typedef {import("../types.js").SectionPicture} SectionPicture */
/** @typedef {import("../types.js").Range} Range */
/** @typedef {{ x: Range, z: Range }} Ranges x in µm, z in nm */

/** How much heights can be drawn larger than widths. */
export const EXAGGERATIONS = [1, 2, 5, 10, 20, 50, 100, 200, 500];
/** The narrowest and flattest that is shown, in µm and nm. */
const NARROWEST_UM = 0.05;
const FLATTEST_NM = 5;

/**
 * So many times as much, around a place: the plumb line and the surface without one. Where that
 * is the whole section, no ranges.
 * @param {Ranges} shown
 * @param {{ plumb: number, width: number }} section where its plumb line hangs, how wide it is
 * @param {number} times
 * @param {{ x: number, z: number } | null} around
 * @returns {{ x: Range | null, z: Range | null }}
 */
export function zoomed(shown, { plumb, width }, times, around) {
  const within = plumb >= shown.x[0] && plumb <= shown.x[1];
  const x = around?.x ?? (within ? plumb : (shown.x[0] + shown.x[1]) / 2);
  const z = around?.z ?? Math.min(Math.max(0, shown.z[0]), shown.z[1]);
  const wide = Math.max((shown.x[1] - shown.x[0]) * times, NARROWEST_UM);
  if (wide >= width) return { x: null, z: null };
  const share = around || within ? (x - shown.x[0]) / (shown.x[1] - shown.x[0]) : 0.5;
  const high = Math.max((shown.z[1] - shown.z[0]) * times, FLATTEST_NM);
  const above = (shown.z[1] - z) / (shown.z[1] - shown.z[0]);
  const from = Math.min(Math.max(0, x - share * wide), width - wide);
  const top = z + above * high;
  return { x: [from, from + wide], z: [top - high, top] };
}

/**
 * Moved, but not beyond the ends of the section.
 * @param {Ranges} from
 * @param {number} width of the section in µm
 * @param {number} dx in µm
 * @param {number} dz in nm
 * @returns {Ranges}
 */
export function panned(from, width, dx, dz) {
  const wide = from.x[1] - from.x[0];
  const left = Math.min(Math.max(0, from.x[0] + dx), Math.max(0, width - wide));
  return { x: [left, left + wide], z: [from.z[0] + dz, from.z[1] + dz] };
}

/**
 * The heights in view that are drawn so many times as large as widths; none to let them fit.
 * @param {SectionPicture} picture
 * @param {Ranges} shown
 * @param {number} times 0: as it fits
 * @returns {Range | null}
 */
export function heightsFor(picture, shown, times) {
  if (times === 0) return null;
  const high = ((shown.z[1] - shown.z[0]) * exaggerationOf(picture)) / times;
  // The surface keeps its place in the picture, or comes into it.
  const above = Math.min(Math.max(shown.z[1] / (shown.z[1] - shown.z[0]), 0.1), 0.9);
  return [above * high - high, above * high];
}

/**
 * The entry of the list that a picture is drawn with, or nothing.
 * @param {SectionPicture} picture
 */
export function nearestExaggeration(picture) {
  const times = exaggerationOf(picture);
  const close = EXAGGERATIONS.find((one) => Math.abs(one / times - 1) < 0.03);
  return close === undefined ? "" : String(close);
}

/** @param {SectionPicture} picture */
function exaggerationOf({ frame, x_nm, z_nm }) {
  const across = (frame[2] - frame[0]) / (x_nm[1] - x_nm[0]);
  return (frame[3] - frame[1]) / (z_nm[1] - z_nm[0]) / across;
}
