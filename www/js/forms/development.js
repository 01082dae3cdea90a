/** The form of the developer, with that of the exposure before it. */

import { EXPOSURE_BEFORE, EXPOSURE_START } from "./exposure.js";

/** @type {Readonly<Record<string, import("../types.js").Form>>} */
export const DEVELOPMENT_FORMS = {
  development: {
    operation: "development",
    label: "Development",
    groups: [
      { title: "Developer", items: ["developer", "time_s", "temperature_c"] },
      ...EXPOSURE_BEFORE,
    ],
    start: { developer: "tmah_2_38", time_s: 60, temperature_c: 21, ...EXPOSURE_START },
  },
};
