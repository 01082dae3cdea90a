/** The form of the developer, with that of the exposure before it. */

/** @type {Readonly<Record<string, import("../types.js").Form>>} */
export const DEVELOPMENT_FORMS = {
  development: {
    operation: "development",
    label: "Development",
    groups: [
      { title: "Developer", items: ["developer", "time_s", "temperature_c"] },
      {
        title: "Exposure before",
        folded: true,
        items: ["exposure.dose_mj_cm2", "exposure.defocus_um", "exposure.thickness_nm"],
      },
    ],
    start: {
      developer: "tmah_2_38",
      time_s: 60,
      temperature_c: 21,
      "exposure.dose_mj_cm2": 140,
      "exposure.defocus_um": 0,
      "exposure.thickness_nm": 1150,
    },
  },
};
