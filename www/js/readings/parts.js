/** What the readings share. */

import { number } from "../format.js";

/** @typedef {import("../readings.js").Results} Results */
/** @typedef {import("../readings.js").Big} Big */

/**
 * Thickness of one layer of SiO2 units in nm: the cube root of the volume of one unit in fused
 * silica of 2.2 g/cm3, 60.1 g/mol (derived). Used to picture a thickness, never to compute one.
 */
export const OXIDE_LAYER_NM = 0.36;
/** Silicon atoms per cm3 (derived: 8 atoms in a cube of 0.5431 nm). */
export const SILICON_ATOMS_CM3 = 5e22;
/** A human hair in nm, a usual middle value (common practice). */
export const HAIR_NM = 80_000;

/**
 * @param {Results} r
 * @param {string} name
 * @param {string} result
 * @param {string} unit
 * @param {(value: number) => string} [meaning]
 * @returns {Big}
 */
export function big(r, name, result, unit, meaning = () => "") {
  const value = number(r, result);
  return {
    name,
    result,
    unit,
    value,
    meaning: value === null ? "" : meaning(value),
  };
}
