/** Readings of the steps that diffuse dopants. */

import { number, significant, spoken } from "../format.js";
import { HAIR_NM, SILICON_ATOMS_CM3, big } from "./parts.js";

/** @typedef {import("../readings.js").Results} Results */
/** @typedef {import("../readings.js").Compared} Compared */
/**
 * @typedef {{ dopant: string, diffusivity: string, root_dt_um: number,
 *   surface_concentration_cm3: number,
 *   junction_depth_um: number | null }} ComparedRow
 */

/**
 * @param {number} concentration
 */
export function dilution(concentration) {
  return `one atom among ${significant(SILICON_ATOMS_CM3 / concentration, 2)} of silicon`;
}

/** @param {Results} r */
export function diffusion(r) {
  const junction = number(r, "junction_depth_um");
  const length = number(r, "root_dt_um");
  let notice =
    "No junction: the dopant never falls to the level of the wafer, or never rises above it.";
  if (junction !== null && length !== null && length > 0) {
    notice = `The junction lies ${significant(junction / length, 2)} diffusion lengths √(Dt) deep: four times the time would only double it.`;
  }
  return {
    big: [
      big(
        r,
        "Junction depth",
        "junction_depth_um",
        "µm",
        (v) => `1/${significant(HAIR_NM / 1000 / v, 2)} of a hair`,
      ),
      big(r, "At the surface", "surface_concentration_cm3", "cm⁻³", dilution),
      big(r, "Dose in the silicon", "dose_cm2", "cm⁻²"),
      big(r, "Sheet resistance", "sheet_resistance_ohm_sq", "Ω/□", () => "of the doped layer"),
      ...mask(r),
    ],
    notice,
    compared: comparisonOf(r),
  };
}

/** @param {Results} r */
function mask(r) {
  if (number(r, "mask_oxide_min_nm") === null) return [];
  return [
    big(
      r,
      "Least oxide that masks it",
      "mask_oxide_min_nm",
      "nm",
      () => "plan half as much again: the working says why",
    ),
  ];
}

/**
 * The same recipe side by side, as a table.
 * @param {Results} r
 * @returns {Compared | null}
 */
function comparisonOf(r) {
  const found =
    /** @type {{ compare: string, method: string, rows: ComparedRow[],
     *   left_out: { dopant: string, diffusivity: string, reason: string }[],
     *   junction_spread: number | null } | null | undefined} */ (r["comparison"]);
  if (!found) return null;
  const models = found.compare === "models";
  /** @param {{ dopant: string, diffusivity: string }} row */
  const name = (row) => spoken(models ? row.diffusivity : row.dopant);
  const notes = found.left_out.map((out) => `Not shown, ${name(out)}: ${out.reason}.`);
  if (found.junction_spread !== null) {
    notes.unshift(
      `The deepest junction is ${significant(found.junction_spread, 3)} times the shallowest.`,
    );
  }
  return {
    caption: `Same recipe, computed as ${found.method}`,
    heads: [models ? "Diffusivities" : "Dopant", "√(Dt) (µm)", "Junction (µm)", "Surface (cm⁻³)"],
    rows: found.rows.map((row) => [
      name(row),
      significant(row.root_dt_um, 3),
      row.junction_depth_um === null ? "none" : significant(row.junction_depth_um, 3),
      significant(row.surface_concentration_cm3, 3),
    ]),
    notes,
  };
}

/**
 * A drive-in or an anneal: what the oxide took, and how much is active.
 * @param {Results} r
 */
export function heating(r) {
  const reading = diffusion(r);
  const doses = /** @type {Results[] | undefined} */ (r["doses"]);
  const first = doses?.[0];
  const taken = first ? (number(first, "oxide_cm2") ?? 0) : 0;
  const kept = first ? (number(first, "silicon_cm2") ?? 0) : 0;
  const active = first ? (number(first, "active_fraction") ?? 1) : 1;
  const oxide = big(r, "Oxide", "oxide_nm", "nm", () =>
    taken > 0
      ? `holds ${significant((100 * taken) / (taken + kept), 2)}\u202f% of the dopant`
      : "free of dopant",
  );
  if ((oxide.value ?? 0) > 0) reading.big.push(oxide);
  if (active < 0.99) {
    reading.notice = `Only ${significant(100 * active, 2)}\u202f% of the dopant is electrically active: silicon holds no more of it at this temperature.`;
  } else if (taken > 0.05 * (taken + kept)) {
    reading.notice =
      "The growing oxide takes dopant with it and eats silicon: depths count from the new surface.";
  }
  return reading;
}
