/**
 * Which results are big, what each means in everyday words, and one sentence on what to notice.
 * Compares results with each other only; every number comes from the kernel's report.
 */

import { number, quantity, significant, spoken } from "./format.js";

/** @typedef {Record<string, unknown>} Results */
/** @typedef {{ name: string, result: string, unit: string, value: number | null,
 *   meaning: string }} Big */
/** @typedef {{ big: Big[], notice: string, spokenSummary: string }} Reading */

/**
 * Thickness of one layer of SiO2 units in nm: the cube root of the volume of one unit in fused
 * silica of 2.2 g/cm3, 60.1 g/mol (derived). Used to picture a thickness, never to compute one.
 */
const OXIDE_LAYER_NM = 0.36;
/** Silicon atoms per cm3 (derived: 8 atoms in a cube of 0.5431 nm). */
const SILICON_ATOMS_CM3 = 5e22;
/** A human hair in nm, a usual middle value (common practice). */
const HAIR_NM = 80_000;

/**
 * @param {string} operation
 * @param {Results} results
 * @returns {Reading}
 */
export function readingOf(operation, results) {
  const build = BUILDERS[operation];
  const { big, notice } = build ? build(results) : { big: [], notice: "" };
  const said = big.map((b) => `${b.name} ${b.value === null ? "none" : quantity(b.value, b.unit)}`);
  return { big, notice, spokenSummary: said.length === 0 ? "" : `${said.join(", ")}.` };
}

/** @type {Readonly<Record<string, (r: Results) => { big: Big[], notice: string }>>} */
const BUILDERS = {
  oxidation: oxidation,
  spin_coating: spinCoating,
  wet_etch: wetEtch,
  predeposition: diffusion,
  drive_in: diffusion,
  implantation: implantation,
  sheet: sheet,
};

/**
 * @param {Results} r
 * @param {string} name
 * @param {string} result
 * @param {string} unit
 * @param {(value: number) => string} [meaning]
 * @returns {Big}
 */
function big(r, name, result, unit, meaning = () => "") {
  const value = number(r, result);
  return { name, result, unit, value, meaning: value === null ? "" : meaning(value) };
}

/** @param {Results} r */
function oxidation(r) {
  const color = /** @type {{ name?: string } | undefined} */ (r["color"]);
  const grown = number(r, "grown_nm") ?? 0;
  const consumed = number(r, "silicon_consumed_nm") ?? 0;
  const time = number(r, "time_min") ?? 0;
  const rate = number(r, "rate_nm_min") ?? 0;
  const share = grown > 0 ? consumed / grown : 0;
  const slowing = grown > 0 && time > 0 ? (rate * time) / grown : 1;
  let notice = "Nothing has grown yet: raise the time.";
  if (grown > 0 && slowing > 0.85) {
    notice =
      "The curve is nearly straight: the reaction at the silicon sets the pace, so twice the time gives nearly twice the oxide.";
  } else if (grown > 0) {
    notice = `The curve bends: at the end it grows at ${significant(100 * slowing, 2)}\u202f% of its mean rate, because oxygen must first cross the oxide that is already there.`;
  }
  return {
    big: [
      big(
        r,
        "Oxide",
        "oxide_nm",
        "nm",
        (v) =>
          `about ${significant(v / OXIDE_LAYER_NM, 2)} layers of SiO₂${color?.name ? `; seen from above: ${color.name}` : ""}`,
      ),
      big(r, "Silicon used up", "silicon_consumed_nm", "nm", () =>
        share > 0
          ? `${significant(100 * share, 2)}\u202f% of the new oxide lies below the old surface`
          : "the surface has not moved",
      ),
      big(r, "Time", "time_min", "min", (v) => (v >= 100 ? quantity(v / 60, "h") : "")),
      big(r, "Rate at the end", "rate_nm_min", "nm/min", (v) =>
        v > 0 ? `${quantity(v / 60, "nm/s", 2)}` : "",
      ),
    ],
    notice,
  };
}

/** @param {Results} r */
function spinCoating(r) {
  const transition = number(r, "transition_s");
  const dry = number(r, "dry_s");
  let notice =
    "The film is still wet at the end: spin longer and it gets thinner; once dry, time no longer matters.";
  if (dry !== null) {
    notice = `After ${quantity(dry, "s", 2)} the film is dry: from then on speed has decided the thickness and more time changes nothing.`;
  }
  return {
    big: [
      big(
        r,
        "Resist after soft bake",
        "thickness_nm",
        "nm",
        (v) => `1/${significant(HAIR_NM / v, 2)} of a hair`,
      ),
      big(r, "Before the bake", "wet_thickness_nm", "nm"),
      big(
        r,
        "Solids at the end",
        "solids_fraction",
        "",
        (v) => `${significant(100 * v, 2)}\u202f% of the film by volume, the rest is solvent`,
      ),
      big(r, "Drying takes over", "transition_s", "s", () =>
        transition === null ? "" : "before it the film flows outward, after it the solvent leaves",
      ),
    ],
    notice,
  };
}

/** @param {Results} r */
function wetEtch(r) {
  const remaining = number(r, "remaining_nm") ?? 0;
  const clear = number(r, "time_to_clear_s");
  const everywhere = number(r, "time_to_clear_everywhere_s");
  const time = number(r, "time_s") ?? 0;
  const over = number(r, "over_etch_percent");
  const material = spoken(String(r["material"] ?? "film"));
  let notice = `This bath does not etch ${material}: choose another one.`;
  if (clear !== null && remaining > 0) {
    notice = `Not clear yet: ${quantity(clear - time, "s", 2)} more and the film is gone, if film and rate are the nominal ones.`;
  } else if (clear !== null && everywhere !== null && time < everywhere) {
    notice = `The nominal film is gone, but the thickest, slowest spot needs ${quantity(everywhere, "s")}: that is what an over-etch is for.`;
  } else if (clear !== null) {
    notice =
      "Clear everywhere. Every second more moves both edges outward: an isotropic etch takes sideways what it takes down.";
  }
  const opening = number(r, "opening_um");
  const line = number(r, "line_um");
  /** @type {Big[]} */
  const left = [];
  if (opening !== null) left.push(big(r, "Opening at the top", "opening_um", "µm"));
  else if (line !== null) {
    left.push(big(r, "Line left at the top", "line_um", "µm", (v) => (v === 0 ? "gone" : "")));
  }
  return {
    big: [
      big(r, "Film left", "remaining_nm", "nm", (v) =>
        v === 0 && over !== null
          ? `cleared, over-etch ${quantity(over, "%", 2)}`
          : `${quantity(number(r, "etched_nm") ?? 0, "nm")} gone`,
      ),
      big(r, "Time to clear", "time_to_clear_s", "s"),
      big(r, "Undercut on each side", "undercut_nm", "nm"),
      ...left,
      big(r, "Etch rate", "rate_nm_min", "nm/min"),
    ],
    notice,
  };
}

/**
 * @param {number} concentration
 */
function dilution(concentration) {
  return `one atom among ${significant(SILICON_ATOMS_CM3 / concentration, 2)} of silicon`;
}

/** @param {Results} r */
function diffusion(r) {
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
    ],
    notice,
  };
}

/** @param {Results} r */
function implantation(r) {
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
    ],
    notice,
  };
}

/** @param {Results} r */
function sheet(r) {
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
