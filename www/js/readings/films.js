/** Readings of the steps that add a film. */

import { number, quantity, significant } from "../format.js";
import { HAIR_NM, OXIDE_LAYER_NM, big } from "./parts.js";

/** @typedef {import("../readings.js").Results} Results */
/** @typedef {import("../readings.js").Big} Big */

/** @param {Results} r */
export function oxidation(r) {
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
export function spinCoating(r) {
  const transition = number(r, "transition_s");
  const dry = number(r, "dry_s");
  let notice =
    "The film is still wet at the end: spin longer and it gets thinner; once dry, time no longer matters.";
  if (dry !== null) {
    notice = `After ${quantity(dry, "s", 2)} the film is dry: from then on speed has decided the thickness and more time changes nothing.`;
  }
  const across = /** @type {Record<string, unknown>} */ (r["across"] ?? {});
  const step = /** @type {Record<string, unknown> | null} */ (r["step"] ?? null);
  const washed = number(across, "removed_mm") ?? 0;
  /** @type {Big[]} */
  const more = [];
  if (step) {
    const beside = number(step, "field_nm") ?? 0;
    const over = number(step, "top_nm") ?? 0;
    more.push(
      big(step, "Over the step", "top_nm", "nm", (v) =>
        beside > 0
          ? `${significant(Math.abs(100 * (1 - v / beside)), 2)}\u202f% ${v < beside ? "thinner" : "thicker"} than beside it`
          : "",
      ),
      big(step, "Step left in the surface", "surface_step_nm", "nm"),
    );
    if (Math.abs(over / beside - 1) > 0.03) {
      notice =
        "Surface tension levels the liquid over what is narrow: the film is thinner on a line and thicker in a trench, and dose and width change with it.";
    }
  }
  more.push(
    big(across, "Bead at the edge", "bead_nm", "nm", (v) =>
      washed > 0
        ? `washed off, ${quantity(washed, "mm", 2)} wide`
        : `it holds a mask ${quantity((v - (number(r, "thickness_nm") ?? 0)) / 1000, "µm", 2)} off the wafer`,
    ),
  );
  if ((number(across, "uniformity_percent") ?? 0) > 0.5) {
    more.push(big(across, "Half range across", "uniformity_percent", "%"));
  }
  if (number(r, "puddle_radius_mm") !== null) {
    more.push(big(r, "The puddle reaches", "puddle_radius_mm", "mm"));
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
      ...more,
    ],
    notice,
  };
}

/** @param {Results} r */
export function bake(r) {
  const kind = String(r["kind"]);
  const solvent = number(r, "solvent_percent") ?? 0;
  const time = number(r, "time_s") ?? 0;
  const tau = number(r, "drying_constant_s") ?? 1;
  const left = number(r, "sensitizer_fraction") ?? 1;
  const spread = number(r, "diffusion_length_nm") ?? 0;
  let notice = "";
  if (kind === "soft" && solvent > 6) {
    notice = `Still soft: the solvent falls to a third every ${quantity(tau, "s", 2)}. Ten degrees more change that by a third.`;
  } else if (kind === "soft") {
    notice =
      left < 0.95
        ? "The solvent is out, and the heat has begun to destroy the sensitizer: hotter is not better."
        : "The solvent is out and the sensitizer is whole: that is the window of a soft bake.";
  } else if (kind === "post_exposure") {
    notice = `The compound spreads by ${quantity(spread, "nm", 2)}: more than a quarter of a standing wave (some 107\u202fnm) smooths the walls, much more blurs the image.`;
  } else {
    notice =
      (number(r, "temperature_c") ?? 0) > 130
        ? "Above about 130\u202f°C the walls of such resist round off and flow."
        : "The resist hardens for the etch; its solvent was out before.";
  }
  const thickness = big(
    r,
    "Resist after the bake",
    "thickness_nm",
    "nm",
    () => `${significant(number(r, "shrinkage_percent") ?? 0, 2)}\u202f% thinner`,
  );
  const dry = big(
    r,
    "Solvent left",
    "solvent_percent",
    "%",
    () => `from ${quantity(number(r, "start_solvent_percent") ?? 0, "%", 2)}`,
  );
  const wide = big(r, "Compound spreads by", "diffusion_length_nm", "nm");
  const whole = big(
    r,
    "Sensitizer left",
    "sensitizer_fraction",
    "",
    (v) => `${significant(100 * v, 3)}\u202f%`,
  );
  const duration = big(
    r,
    "Time on the plate",
    "time_s",
    "s",
    () => `${significant(time / tau, 2)} time constants of drying`,
  );
  return {
    big:
      kind === "post_exposure"
        ? [wide, whole, thickness, duration]
        : [thickness, dry, whole, duration],
    notice,
  };
}

/** @param {Results} r */
export function deposition(r) {
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
