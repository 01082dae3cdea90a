/** The form of the developer, with that of the exposure before it. */

import { EXPOSURE_BEFORE, EXPOSURE_START } from "./exposure.js";

/** The light stands open: dose and focus are what the walls depend on most. */
const BEFORE = EXPOSURE_BEFORE.map((group) => ({
  ...group,
  folded: group.title !== "Light",
  title: group.title === "Light" ? "Exposure before" : group.title,
}));

/** @type {Readonly<Record<string, import("../types.js").Form>>} */
export const DEVELOPMENT_FORMS = {
  development: {
    operation: "development",
    label: "Development",
    groups: [
      {
        title: "Developer",
        items: [
          "developer",
          {
            mode: "until",
            label: "Develop",
            options: [
              { word: "time", label: "for a time", fields: ["time_s"] },
              { word: "clear", label: "past clearing", fields: ["over_develop_percent"] },
            ],
          },
          "temperature_c",
          "normality",
        ],
      },
      ...BEFORE,
      {
        title: "How fast the resist dissolves",
        folded: true,
        items: [
          "rate_parameters.fastest_nm_s",
          "rate_parameters.slowest_nm_s",
          "rate_parameters.threshold_pac",
          "rate_parameters.order",
          "rate_parameters.surface_ratio",
          "rate_parameters.inhibition_depth_nm",
        ],
      },
    ],
    start: {
      ...EXPOSURE_START,
      "exposure.mask.pitch_um": 1,
      "exposure.mask.opening_um": 0.5,
      developer: "tmah_2_38",
      until: "time",
      time_s: 60,
      over_develop_percent: 50,
      temperature_c: 21,
      normality: 0.26,
      "rate_parameters.fastest_nm_s": 100,
      "rate_parameters.slowest_nm_s": 0.1,
      "rate_parameters.threshold_pac": 0.35,
      "rate_parameters.order": 5,
      "rate_parameters.surface_ratio": 1,
      "rate_parameters.inhibition_depth_nm": 100,
    },
  },
};
