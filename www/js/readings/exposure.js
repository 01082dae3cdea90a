/** Readings of the aligner and of its process window. */

import { number, quantity, significant } from "../format.js";
import { big } from "./parts.js";

/** @typedef {import("../readings.js").Results} Results */
/** @typedef {import("../readings.js").Big} Big */

/**
 * A number inside a result, or null.
 * @param {Results} r
 * @param {string} group
 * @param {string} name
 */
function within(r, group, name) {
  const inner = r[group];
  if (typeof inner !== "object" || inner === null) return null;
  return number(/** @type {Results} */ (inner), name);
}

/** @param {Results} r */
export function exposure(r) {
  const contrast = number(r, "contrast") ?? 0;
  const needed = within(r, "resist_contrast", "critical_modulation");
  const gamma = within(r, "resist_contrast", "gamma");
  const drawn = within(r, "mask", "nominal_um");
  const finest = number(r, "finest_um");
  const rule = number(r, "resolution_um");
  const clear = number(r, "dose_to_clear_mj_cm2");
  const dose = number(r, "dose_mj_cm2");
  const focus = number(r, "computed_focus_um");
  const ratio = number(r, "standing_wave_ratio") ?? 1;
  const isBaked = (number(r, "diffusion_length_nm") ?? 0) > 0;
  let notice =
    "The image has no sharp edge; the resist makes one. Where the curve crosses the dashed level the resist just turns.";
  if (needed !== null && contrast < needed) {
    notice = `The image is too flat: this resist needs a contrast of ${significant(needed, 2)}, and no dose will make up for it.`;
  } else if (clear !== null && dose !== null && dose < clear) {
    notice = `Too little light: an open frame needs ${quantity(clear, "mJ/cm²")} to clear.`;
  } else if (!isBaked && ratio < 0.5) {
    notice =
      "Light that comes back from below stands in the resist as waves: dark layers every half wavelength. A bake after exposure blurs them away.";
  }
  /** @type {Big[]} */
  const list = [
    big(r, "Image contrast", "contrast", "", () =>
      needed === null ? "" : `the resist needs ${significant(needed, 2)}`,
    ),
    big(r, "Log slope at the edge (NILS)", "nils", "", () => {
      const latitude = number(r, "image_latitude_percent");
      return latitude === null || drawn === null
        ? ""
        : `about ${quantity(latitude, "%", 2)} of dose keeps the width within 10\u202f%`;
    }),
    big(r, "Dose to clear", "dose_to_clear_mj_cm2", "mJ/cm²", (v) =>
      dose === null ? "" : `this dose is ${significant(dose / v, 3)} times as much`,
    ),
    big(r, "Width by the threshold", "threshold_width_um", "µm", () =>
      drawn === null
        ? ""
        : `drawn ${quantity(drawn, "µm")}; the developer goes on from here sideways`,
    ),
    big(r, "Finest lines, computed", "finest_um", "µm", () =>
      rule === null ? "" : `rule: ${quantity(rule, "µm")}`,
    ),
  ];
  if (finest === null) list.pop();
  if (drawn === null) list.splice(3, 1);
  if (number(r, "depth_of_focus_um") !== null) {
    list.push(
      big(r, "Depth of focus by the rule, ±", "depth_of_focus_um", "µm", () =>
        focus === null ? "" : `computed for lines of the rule's width: ± ${quantity(focus, "µm")}`,
      ),
    );
  }
  if (gamma !== null) {
    list.push({
      name: "Contrast of the resist γ",
      result: "resist_contrast",
      unit: "",
      value: gamma,
      meaning: "from 80 to 20\u202f% of resist left",
    });
  }
  list.push(
    big(r, "Exposure time", "time_s", "s", () => {
      const power = number(r, "irradiance_mw_cm2");
      return power === null ? "" : `at ${quantity(power, "mW/cm²")}`;
    }),
  );
  return { big: list, notice };
}

/** @param {Results} r */
export function processWindow(r) {
  const done = number(r, "points_done") ?? 0;
  const all = number(r, "points") ?? 0;
  const range = number(r, "focus_range_um");
  const asked = number(r, "latitude_percent") ?? 0;
  const isofocal = number(r, "isofocal_dose_mj_cm2");
  let notice = "Row by row the developer is run for every dose and focus.";
  if (done >= all && range === null) {
    notice = `No range of dose of ${quantity(asked, "%", 2)} keeps the width: widen the drawing, move the dose, or print with a lens that resolves more.`;
  } else if (done >= all) {
    notice =
      "The curves of low doses bend one way, those of high doses the other. In between lies a dose whose width hardly cares about focus.";
    if (isofocal !== null) notice += ` Of these doses it is ${quantity(isofocal, "mJ/cm²")}.`;
  }
  return {
    big: [
      big(r, "Dose to size", "dose_to_size_mj_cm2", "mJ/cm²", () => {
        const width = number(r, "nominal_um");
        return width === null ? "" : `for ${quantity(width, "µm")}, in the middle of the focus`;
      }),
      big(
        r,
        "Latitude of dose",
        "exposure_latitude_percent",
        "%",
        () => "in the middle of the focus",
      ),
      big(
        r,
        "Depth of focus",
        "focus_range_um",
        "µm",
        () => `from end to end, with ${quantity(asked, "%", 2)} of dose to spare`,
      ),
    ],
    notice,
  };
}
