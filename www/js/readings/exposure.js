/** Readings of the aligner. */

import { big } from "./parts.js";

/** @param {import("../readings.js").Results} r */
export function exposure(r) {
  return {
    big: [
      big(r, "Image contrast", "contrast", ""),
      big(r, "Log slope at the edge (NILS)", "nils", ""),
      big(r, "Dose to clear", "dose_to_clear_mj_cm2", "mJ/cm²"),
      big(r, "Resolution by the rule", "resolution_um", "µm"),
    ],
    notice: "",
  };
}
