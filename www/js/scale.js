/**
 * The positions of a slider. An even scale has the values themselves as positions; a stretched one
 * has a list of values in equal ratios, each different from its neighbors, so that every press of
 * an arrow key moves on.
 */

/** Values in each decade of a stretched scale. */
const PER_DECADE = 50;
/** Significant digits of these values. */
const DIGITS = 2;
/** A range from zero over more steps than this is stretched near zero, where the action is. */
const MOST_EVEN_STEPS = 800;
/** Decades of a stretched range that begins at zero. */
const DECADES_ABOVE_ZERO = 4;

/** @typedef {import("./types.js").NumberField} NumberField */
/**
 * @typedef {{ min: number, max: number, step: number, valueAt: (position: number) => number,
 *   positionOf: (value: number) => number }} SliderScale
 */

/**
 * @param {NumberField} field
 * @returns {SliderScale}
 */
export function scaleOf(field) {
  const values = valuesOf(field);
  return values ? listed(values) : even(field);
}

/**
 * @param {NumberField} field
 * @returns {SliderScale}
 */
function even({ min, max, step }) {
  const inside = (/** @type {number} */ value) => Math.min(max, Math.max(min, value));
  return {
    min,
    max,
    step,
    valueAt: (position) => Number(inside(position).toPrecision(12)),
    positionOf: inside,
  };
}

/**
 * @param {number[]} values
 * @returns {SliderScale}
 */
function listed(values) {
  const last = values.length - 1;
  const at = (/** @type {number} */ k) => values[Math.min(last, Math.max(0, Math.round(k)))] ?? 0;
  return {
    min: 0,
    max: last,
    step: 1,
    valueAt: at,
    positionOf: (value) => {
      const above = values.findIndex((other) => other >= value);
      if (above < 1) return above < 0 ? last : 0;
      return at(above) - value < value - at(above - 1) ? above : above - 1;
    },
  };
}

/**
 * The values of a stretched scale, or null for an even one.
 * @param {NumberField} field
 * @returns {number[] | null}
 */
function valuesOf({ min, max, step, scale }) {
  const fromZero = min === 0 && max / step > MOST_EVEN_STEPS;
  if (!fromZero && (scale !== "log" || min <= 0)) return null;
  const low = fromZero ? Math.max(step, max / 10 ** DECADES_ABOVE_ZERO) : min;
  const count = Math.ceil(PER_DECADE * Math.log10(max / low));
  const values = new Set(fromZero ? [0] : [min]);
  for (let k = fromZero ? 0 : 1; k < count; k += 1) {
    const value = Number((low * (max / low) ** (k / count)).toPrecision(DIGITS));
    const rounded = fromZero ? Math.round(value / step) * step : value;
    values.add(Number(rounded.toPrecision(12)));
  }
  return [...values.add(max)].filter((value) => value <= max).sort((a, b) => a - b);
}
