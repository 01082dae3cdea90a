/** Rows of the comparison: a quantity, its value in both runs, the difference. */

import { quantity, significant, spoken } from "../../format.js";
import { nameAndUnit, valueWords } from "../words.js";

/** @typedef {import("../types.js").Place} Place */
/** @typedef {import("../types.js").Measurement} Measurement */
/**
 * @typedef {{ quantity: string, where: string, x: number | null, a: string, b: string,
 *   difference: string }} Row x: a place of the section in µm
 */

/**
 * A row for two values, or none if they read alike to the digits that are shown.
 * @param {string} name
 * @param {unknown} a undefined or null: there is none
 * @param {unknown} b
 * @param {string} unit
 * @param {{ where?: string, x?: number | null }} [place]
 * @returns {Row[]}
 */
export function rowOf(name, a, b, unit, { where = "", x = null } = {}) {
  if (Array.isArray(a) && Array.isArray(b) && a.length === b.length) {
    const each = a.flatMap((one, k) =>
      rowOf(partName(name, k, a.length), one, b[k], unit, { where, x }),
    );
    if ([...a, ...b].every((one) => typeof one === "number")) return each;
  }
  const [one, other] = [a, b].map((value) =>
    value === undefined || value === null ? "none" : valueWords(value, unit) || "–",
  );
  if (one === other) return [];
  const only = one === "none" ? "only in B" : other === "none" ? "only in A" : "other";
  const difference =
    typeof a === "number" && typeof b === "number" ? changeWords(a, b, unit) : only;
  return [{ quantity: name, where, x, a: one ?? "", b: other ?? "", difference }];
}

/**
 * The name of one value of a list. Where one junction lies below another, the doped region between
 * them is a well, and the lowest junction is its bottom.
 * @param {string} name
 * @param {number} k from 0
 * @param {number} count
 */
function partName(name, k, count) {
  if (name !== "junction depths") return count === 1 ? name : `${name}, ${k + 1} of ${count}`;
  if (count === 1) return "junction depth";
  const bottom = k === count - 1 ? ", the bottom of the well" : "";
  return `junction depth, ${k + 1} of ${count}${bottom}`;
}

/**
 * @param {number} a
 * @param {number} b
 * @param {string} unit
 */
function changeWords(a, b, unit) {
  const by = b - a;
  const sign = by > 0 ? "+" : "";
  const share = a === 0 ? NaN : (100 * by) / Math.abs(a);
  const percent =
    Number.isNaN(share) || unit === "%" || Math.abs(share) > 1000
      ? ""
      : ` (${sign}${significant(share, 2)}\u202f%)`;
  return `${sign}${quantity(by, unit)}${percent}`;
}

/**
 * @param {import("../types.js").Difference[]} differences
 * @returns {Row[]}
 */
export function largestRows(differences) {
  return differences.flatMap(({ quantity: name, before, after, unit, x_um: x }) =>
    rowOf(name, before, after, unit, { x }),
  );
}

/**
 * @param {Record<string, unknown>} a results of a step
 * @param {Record<string, unknown>} b
 * @returns {Row[]}
 */
export function resultDifferences(a, b) {
  return [...new Set([...Object.keys(a), ...Object.keys(b)])].flatMap((key) => {
    const [name, unit] = nameAndUnit(key);
    return rowOf(name, a[key], b[key], unit);
  });
}

/**
 * @param {Place} a
 * @param {Place} b
 * @returns {Row[]}
 */
export function placeRows(a, b) {
  const [films, others] = [filmsOf(a), filmsOf(b)];
  const rows = [...new Set([...films.keys(), ...others.keys()])].flatMap((film) =>
    rowOf(film, films.get(film) ?? 0, others.get(film) ?? 0, "nm"),
  );
  const count = Math.max(a.junctions_um.length, b.junctions_um.length);
  for (let k = 0; k < count; k += 1) {
    const name = partName("junction depths", k, count);
    rows.push(...rowOf(name, a.junctions_um[k], b.junctions_um[k], "µm"));
  }
  const [top, other] = [a, b].map(({ sheet }) => sheet[0]?.sheet_resistance_ohm_sq ?? undefined);
  rows.push(...rowOf("sheet resistance of the uppermost layer", top, other, "Ω/□"));
  const [gate, otherGate] = [a.polysilicon_ohm_sq, b.polysilicon_ohm_sq];
  rows.push(...rowOf("sheet resistance of the polysilicon", gate, otherGate, "Ω/□"));
  return rows;
}

/**
 * Thickness of every film of a place in nm, all its layers together.
 * @param {Place} place
 */
function filmsOf({ layers }) {
  /** @type {Map<string, number>} */
  const films = new Map();
  for (const { material, thickness_nm: nm } of layers) {
    if (material === "silicon" || material === "open") continue;
    films.set(spoken(material), (films.get(spoken(material)) ?? 0) + nm);
  }
  return films;
}

/**
 * What differs between the finished wafers, and how many measurements read alike.
 * @param {Measurement[]} a
 * @param {Measurement[]} b
 * @returns {{ rows: Row[], alike: number }}
 */
export function measurementRows(a, b) {
  const keyOf = (/** @type {Measurement} */ one) => `${one.id} ${one.where}`;
  const old = new Map(a.map((one) => [keyOf(one), one]));
  let count = 0;
  const rows = b.flatMap((one) => {
    const before = old.get(keyOf(one));
    old.delete(keyOf(one));
    const unit = one.unit || nameAndUnit(one.id)[1];
    const found = rowOf(one.quantity, before?.value, one.value, unit, {
      where: one.where,
    });
    if (found.length === 0) count += 1;
    return found;
  });
  for (const one of old.values()) {
    const unit = one.unit || nameAndUnit(one.id)[1];
    rows.push(...rowOf(one.quantity, one.value, undefined, unit, { where: one.where }));
  }
  return { rows, alike: count };
}
