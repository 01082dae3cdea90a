/** Results, layers and measurements of a flow in words. */

import { quantity, significant, spoken } from "../format.js";

/** Units that names of results end in, the longest ends first. */
/** @type {readonly [string, string][]} */
const UNITS = [
  ["_ohm_sq", "Ω/□"],
  ["_ohm_cm", "Ω\u00a0cm"],
  ["_mj_cm2", "mJ/cm²"],
  ["_nf_cm2", "nF/cm²"],
  ["_nm_min", "nm/min"],
  ["_percent", "%"],
  ["_nm2", "nm²"],
  ["_cm2", "cm⁻²"],
  ["_cm3", "cm⁻³"],
  ["_rpm", "rpm"],
  ["_kev", "keV"],
  ["_kpa", "kPa"],
  ["_deg", "°"],
  ["_min", "min"],
  ["_nm", "nm"],
  ["_mm", "mm"],
  ["_um", "µm"],
  ["_c", "°C"],
  ["_s", "s"],
];

/**
 * Name and unit of a result: `silicon_consumed_nm` gives "Silicon consumed" and "nm".
 * @param {string} name
 * @returns {[string, string]}
 */
export function nameAndUnit(name) {
  const [end = "", unit = ""] = UNITS.find(([ending]) => name.endsWith(ending)) ?? [];
  const words = spoken(name.slice(0, name.length - end.length));
  return [words.charAt(0).toUpperCase() + words.slice(1), unit];
}

/**
 * A value in words; nothing for one that says nothing.
 * @param {unknown} value
 * @param {string} unit
 * @returns {string}
 */
export function valueWords(value, unit) {
  if (typeof value === "number") return quantity(value === 0 ? 0 : value, unit);
  if (typeof value === "boolean") return value ? "yes" : "no";
  if (typeof value === "string") return spoken(value);
  if (Array.isArray(value)) {
    if (value.length === 0) return "none";
    if (value.every((part) => Array.isArray(part) && part.length === 2)) {
      const parts = value.map(([from, to]) => `${valueWords(from, "")} to ${valueWords(to, "")}`);
      return `${parts.join("; ")}${unit === "" ? "" : `\u00a0${unit}`}`;
    }
    const parts = value.map((part) =>
      typeof part === "number" ? significant(part) : valueWords(part, ""),
    );
    return `${parts.join(", ")}${unit === "" ? "" : `\u00a0${unit}`}`;
  }
  if (typeof value === "object" && value !== null) {
    return Object.entries(value)
      .map(([key, part]) => {
        const [name, ownUnit] = nameAndUnit(key);
        return `${name.toLowerCase()} ${valueWords(part, ownUnit || unit)}`;
      })
      .join(", ");
  }
  return "";
}

/**
 * Rows of a step's results.
 * @param {Record<string, unknown>} results
 * @returns {[string, string][]}
 */
export function resultRows(results) {
  return Object.entries(results)
    .map(([key, value]) => {
      const [name, unit] = nameAndUnit(key);
      return /** @type {[string, string]} */ ([name, valueWords(value, unit)]);
    })
    .filter(([, words]) => words !== "");
}

/**
 * A thickness in nm or µm, whichever reads better.
 * @param {number} nm
 */
export function lengthWords(nm) {
  return Math.abs(nm) < 1000 ? quantity(nm, "nm") : quantity(nm / 1000, "µm");
}
