/** Readings of the developer. */

import { big } from "./parts.js";

/** @param {import("../readings.js").Results} r */
export function development(r) {
  return {
    big: [
      big(r, "Width at half height", "cd_middle_um", "µm"),
      big(r, "Sidewall", "sidewall_deg", "°"),
      big(r, "Time to clear", "time_to_clear_s", "s"),
    ],
    notice: "",
  };
}
