/** Readings of the beam and of the probes. */

import { number, plain, quantity, significant } from "../format.js";
import { big } from "./parts.js";
import { dilution } from "./diffusion.js";

/** @typedef {import("../readings.js").Results} Results */
/** @typedef {import("../readings.js").Big} Big */

/**
 * The reading of ions followed one by one: each number with the error that their count leaves.
 * @param {Results} r
 * @returns {{ big: Big[], notice: string }}
 */
function singleIons(r) {
  const done = number(r, "ions_done") ?? 0;
  const total = number(r, "ions") ?? done;
  /**
   * @param {string} field
   * @param {string} unit
   */
  const error = (field, unit) => {
    const value = number(r, field);
    return value === null ? "too few ions to tell its error" : `± ${quantity(value, unit, 2)}`;
  };
  const table = number(r, "table_projected_range_nm");
  const byTable = table === null ? "" : `; range table ${quantity(table, "nm")}`;
  return {
    big: [
      big(r, "Ions that have flown", "ions_done", "", () =>
        done < total ? `of ${plain(total)} asked for` : "",
      ),
      big(
        r,
        "Projected range",
        "projected_range_nm",
        "nm",
        () => error("projected_range_error_nm", "nm") + byTable,
      ),
      big(r, "Straggle", "straggle_nm", "nm", () => error("straggle_error_nm", "nm")),
      big(r, "Lateral straggle", "lateral_straggle_nm", "nm", () =>
        error("lateral_straggle_error_nm", "nm"),
      ),
      big(r, "Skewness", "skewness", "", () => error("skewness_error", "")),
      big(
        r,
        "Kurtosis",
        "kurtosis",
        "",
        () => `${error("kurtosis_error", "")}; a bell curve has 3`,
      ),
      big(r, "Scattered back out", "backscattered_fraction", "", () =>
        error("backscattered_fraction_error", ""),
      ),
      big(r, "Reaches the silicon", "transmitted_fraction", ""),
      big(
        r,
        "Energy given to atoms",
        "nuclear_fraction",
        "",
        () => "of all energy; electrons take the rest",
      ),
    ],
    notice:
      "What one ion does is chance; where thousands rest is law. Four times the ions halve the error.",
  };
}

/**
 * What the other range table says, in a sentence; nothing without one.
 * @param {Results} r
 */
function tablesDiffer(r) {
  const other = /** @type {Results | null | undefined} */ (r["spread"]);
  if (!other) return "";
  const [ours, theirs] = [number(r, "projected_range_nm"), number(other, "projected_range_nm")];
  if (ours === null || theirs === null) return "";
  const name = other["range_table"] === "computed" ? "computed" : "1975";
  return ` The ${name} table puts the range at ${significant(theirs, 3)}\u202fnm instead of ${significant(ours, 3)}\u202fnm: so far do theories of stopping differ.`;
}

/** @param {Results} r */
export function implantation(r) {
  if (number(r, "ions_done") !== null) return singleIons(r);
  const depth = number(r, "peak_depth_nm") ?? 0;
  const transmitted = number(r, "transmitted_fraction") ?? 1;
  let notice =
    "The crest lies below the surface: energy moves it down, dose only lifts it. Straggle sets its width.";
  if (transmitted < 0.01) {
    notice = "The layer stops nearly every ion: this is how a mask works.";
  } else if (transmitted < 0.9) {
    notice = `${significant(100 * (1 - transmitted), 2)}\u202f% of the ions stop in the layer above: only the rest dopes the silicon.`;
  } else if (depth === 0) {
    notice = "The crest lies in the layer above: the silicon sees only the falling side.";
  }
  notice += tablesDiffer(r);
  return {
    big: [
      big(r, "Peak concentration", "peak_cm3", "cm⁻³", dilution),
      big(r, "Depth of the peak", "peak_depth_nm", "nm", () => "below the silicon surface"),
      big(
        r,
        "Dose kept in the silicon",
        "retained_dose_cm2",
        "cm⁻²",
        () => `${significant(100 * transmitted, 3)}\u202f% of the beam`,
      ),
      big(r, "Junction depth", "junction_depth_um", "µm"),
      big(r, "Straggle", "straggle_nm", "nm"),
      ...(number(r, "amorphous_depth_nm") === null
        ? []
        : [big(r, "Amorphous down to", "amorphous_depth_nm", "nm", () => "until annealed")]),
    ],
    notice,
  };
}

/** @param {Results} r */
export function sheet(r) {
  const layers = /** @type {Results[]} */ (Array.isArray(r["layers"]) ? r["layers"] : []);
  const layer = layers[(number(r, "layer") ?? 1) - 1] ?? {};
  const junction = number(r, "junction_depth_um");
  const dose = number(layer, "dose_cm2");
  const thickness = (number(layer, "bottom_um") ?? 0) - (number(layer, "top_um") ?? 0);
  let notice =
    "There is no junction below: the current spreads down to the back of the wafer, so thickness counts as much as doping.";
  if (junction !== null) {
    notice =
      "The junction keeps the current in the layer above it. Sheet resistance counts atoms per area, not depth: spread the same dose deeper and it falls only because mobility rises.";
  }
  /** @type {Big[]} */
  const more = [];
  if (number(r, "van_der_pauw_ohm_sq") !== null) {
    more.push(big(r, "From four contacts", "van_der_pauw_ohm_sq", "Ω/□", () => "van der Pauw"));
  }
  if (number(r, "line_resistance_ohm") !== null) {
    more.push(
      big(
        r,
        "Line",
        "line_resistance_ohm",
        "Ω",
        () => `${significant(number(r, "squares") ?? 0, 3)} squares`,
      ),
    );
  }
  return {
    big: [
      big(r, "Sheet resistance", "sheet_resistance_ohm_sq", "Ω/□", () =>
        dose === null ? "" : `${quantity(dose, "cm⁻²")} carriers in ${quantity(thickness, "µm")}`,
      ),
      big(r, "Voltage of the inner probes", "voltage_mv", "mV"),
      big(
        r,
        "Voltage over current",
        "voltage_over_current_ohm",
        "Ω",
        () => "times the geometry factor gives the sheet resistance",
      ),
      big(r, "Junction depth", "junction_depth_um", "µm"),
      big(layer, "Mean mobility", "mean_mobility_cm2_vs", "cm²/Vs"),
      ...more,
    ],
    notice,
  };
}
