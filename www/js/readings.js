/**
 * Which results are big, what each means in everyday words, and one sentence on what to notice.
 * Compares results with each other only; every number comes from the kernel's report.
 */

import { number, plain, quantity, significant, spoken } from "./format.js";

/** @typedef {Record<string, unknown>} Results */
/** @typedef {{ name: string, result: string, unit: string, value: number | null,
 *   meaning: string }} Big */
/** @typedef {{ big: Big[], notice: string, spokenSummary: string,
 *   compared: Compared | null }} Reading */

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
  const { big, notice, compared = null } = build ? build(results) : NOTHING;
  const said = big.map((b) => `${b.name} ${b.value === null ? "none" : quantity(b.value, b.unit)}`);
  return { big, notice, compared, spokenSummary: said.length === 0 ? "" : `${said.join(", ")}.` };
}

/** @typedef {{ big: Big[], notice: string, compared?: Compared | null }} Built */

/** @type {Built} */
const NOTHING = { big: [], notice: "" };

/** @type {Readonly<Record<string, (r: Results) => Built>>} */
const BUILDERS = {
  oxidation: oxidation,
  spin_coating: spinCoating,
  wet_etch: wetEtch,
  deposition: deposition,
  dry_etch: dryEtch,
  resist_strip: resistStrip,
  planarization: planarization,
  predeposition: diffusion,
  drive_in: heating,
  anneal: heating,
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

/** @param {Results} r */
function dryEtch(r) {
  const remaining = number(r, "remaining_nm") ?? 0;
  const clear = number(r, "time_to_clear_s") ?? 0;
  const time = number(r, "time_s") ?? 0;
  const fence = number(r, "step_left_nm");
  const loss = number(r, "stop_layer_loss_nm") ?? 0;
  const stop = spoken(String(r["stop"] ?? "layer below"));
  const film = spoken(String(r["material"] ?? "film"));
  const sideways = number(r, "lateral_nm") ?? 0;
  let notice =
    sideways > 0
      ? `Clear, but this plasma also goes sideways: each edge of the film lies ${quantity(sideways, "nm", 2)} below the mask. Every second more costs ${stop}.`
      : `Clear, and as wide as the mask: ions fall straight down. Every second more costs ${stop}.`;
  if (remaining > 0) {
    notice = `Not clear yet: ${quantity(clear - time, "s", 2)} more at the nominal rate. The band shows how far etchers differ.`;
  } else if (fence !== null && fence > 0) {
    notice = `The end point has come, but a fence of ${film} stands at the step: seen from above the film is thicker there. Only an over-etch takes it, and ${stop} pays for it.`;
  } else if (fence !== null) {
    notice = `The step is clean. While the fence was etched away, ${quantity(loss, "nm", 2)} of ${stop} went on flat ground.`;
  } else if (loss === 0) {
    notice = `Just clear: ${stop} is still whole.`;
  }
  const line = number(r, "line_um");
  /** @type {Big[]} */
  const left = [];
  if (fence !== null) left.push(big(r, "Fence at the step", "step_left_nm", "nm"));
  if (number(r, "opening_um") !== null) left.push(big(r, "Opening", "opening_um", "µm"));
  if (line !== null) {
    left.push(big(r, "Line left", "line_um", "µm", (v) => (v === 0 ? "gone" : "")));
  }
  const mask = number(r, "mask_nm");
  if (mask !== null) {
    left.push(
      big(r, "Mask lost", "mask_loss_nm", "nm", (v) =>
        v < mask ? `of ${quantity(mask, "nm")} of resist` : "more than there was",
      ),
    );
  }
  return {
    big: [
      big(r, "Film left", "remaining_nm", "nm", (v) =>
        v === 0 ? "cleared" : `${quantity(number(r, "etched_nm") ?? 0, "nm")} gone`,
      ),
      big(r, "Lost below", "stop_layer_loss_nm", "nm", () => `of ${stop}`),
      big(r, "Time to clear", "time_to_clear_s", "s", () => "the flat film"),
      ...left,
      big(r, "Sideways under the mask", "lateral_nm", "nm", (v) =>
        v === 0 ? "upright walls" : "",
      ),
    ],
    notice,
  };
}

/** @param {Results} r */
function resistStrip(r) {
  const left = number(r, "remaining_nm") ?? 0;
  const attacked = r["attacked"];
  let notice =
    left > 0
      ? "Resist is left: strip longer. Half a film of resist in a furnace is carbon in the tube."
      : "Gone, if it was soft: resist that was implanted or etched in plasma has a hard crust.";
  if (Array.isArray(attacked) && attacked.length > 0) {
    notice = `This strip does not stop at the resist: with ${attacked.map((a) => spoken(String(a?.material))).join(" and ")} on the wafer take another one.`;
  }
  return {
    big: [
      big(r, "Resist left", "remaining_nm", "nm"),
      big(r, "Removed", "removed_nm", "nm"),
      big(r, "Time to clear", "time_to_clear_min", "min"),
      big(r, "Rate", "rate_nm_min", "nm/min"),
    ],
    notice,
  };
}

/** @param {Results} r */
function planarization(r) {
  const step = number(r, "step_height_nm") ?? 0;
  const before = number(r, "initial_step_height_nm") ?? 0;
  const level = number(r, "time_to_level_s");
  const time = number(r, "time_s") ?? 0;
  const left = number(r, "remaining_nm") ?? 0;
  const share = number(r, "dense_fraction") ?? 1;
  let notice = "On a flat wafer the pad takes the same everywhere: pressure times speed.";
  if (left <= 0 && r["stop"]) {
    notice =
      "The stop layer is bare and holds the pad up: it goes slowly, and that is all the time there is.";
  } else if (left <= 0) {
    notice = "The film over the high places is gone: what lies below is polished now.";
  } else if (before > 0 && step > 0 && level !== null) {
    notice = `Only the high places touch the pad: they carry the load on ${significant(100 * share, 2)}\u202f% of the area and go faster for it. Level in ${quantity(level - time, "s", 2)}.`;
  } else if (before > 0) {
    notice =
      "Level. From now on the pad takes high and low places alike: it thins the film and gains nothing.";
  }
  return {
    big: [
      big(r, "Step left", "step_height_nm", "nm", () =>
        before > 0 ? `of ${quantity(before, "nm")}` : "flat from the start",
      ),
      big(r, "Film on the high places", "remaining_nm", "nm"),
      big(r, "Film on average", "mean_thickness_nm", "nm"),
      big(r, "Time to level", "time_to_level_s", "s"),
      big(r, "Rate of a flat wafer", "rate_nm_min", "nm/min"),
    ],
    notice,
  };
}

/** @param {Results} r */
function deposition(r) {
  const cover = /** @type {Record<string, unknown> | null} */ (r["step_coverage"] ?? null);
  const structure = /** @type {{ kind?: string, meaning?: string } | null} */ (
    r["structure"] ?? null
  );
  const voids = /** @type {unknown[]} */ (r["voids"] ?? []);
  const side = cover ? number(cover, "side_ratio") : null;
  const low = number(r, "thickness_low_nm") ?? 0;
  const high = number(r, "thickness_high_nm") ?? 0;
  const rim = number(r, "rim_to_center");
  let notice =
    "The rate is an exponential of the temperature: move it by ten degrees and watch the thickness.";
  if (voids.length > 0) {
    notice =
      "The film has met over the trench before the trench was full: what is left inside is a void.";
  } else if (cover?.["closed"] === true) {
    notice =
      "The trench is full: both walls have grown half its width and met in a seam. More time only thickens the top.";
  } else if (r["method"] === "spin_on" && cover) {
    notice = "A liquid finds its level: the trench is filled, and only the cure leaves a dip.";
  } else if (side !== null && side > 0.97) {
    notice =
      "The wall is as thick as the top: molecules that leave a wall many times before they react find every corner.";
  } else if (side !== null && side < 0.01) {
    notice = "The atoms come straight from above: the walls stay bare and the film is broken.";
  } else if (side !== null) {
    notice = `The wall gets ${significant(100 * side, 2)}\u202f% of the top: a wall sees less of the sky than flat ground, and the more the film grows, the less.`;
  }
  /** @type {Big[]} */
  const more = [];
  if (cover && side !== null) {
    more.push(
      big(
        cover,
        "On the wall",
        "side_nm",
        "nm",
        () => `${significant(100 * side, 2)}\u202f% of the top`,
      ),
    );
  }
  if (cover) {
    const bottom = number(cover, "bottom_ratio") ?? 0;
    more.push(
      big(
        cover,
        "At the bottom",
        "bottom_nm",
        "nm",
        () => `${significant(100 * bottom, 2)}\u202f% of the top`,
      ),
    );
  }
  if (rim !== null) {
    more.push(
      big(
        r,
        "Rim over center",
        "rim_to_center",
        "",
        (v) => `the rim is ${significant(100 * (1 - v), 2)}\u202f% thinner`,
      ),
    );
  }
  if (number(r, "sheet_resistance_ohm_sq") !== null) {
    more.push(big(r, "Sheet resistance", "sheet_resistance_ohm_sq", "Ω/□"));
  }
  return {
    big: [
      big(r, "Film on top", "thickness_nm", "nm", () =>
        high > low
          ? `${significant(low, 2)} to ${quantity(high, "nm", 2)} in other tools`
          : `1/${significant(HAIR_NM / (number(r, "thickness_nm") ?? 1), 2)} of a hair`,
      ),
      big(r, "Time", "time_min", "min"),
      big(r, "Rate", "rate_nm_min", "nm/min", () => structure?.meaning ?? ""),
      ...more,
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
 * @typedef {{ dopant: string, diffusivity: string, root_dt_um: number,
 *   surface_concentration_cm3: number,
 *   junction_depth_um: number | null }} ComparedRow
 * @typedef {{ caption: string, heads: string[], rows: string[][], notes: string[] }} Compared
 */

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
function heating(r) {
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
function implantation(r) {
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
