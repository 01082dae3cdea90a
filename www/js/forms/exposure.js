/** The form of the aligner. */

/** @type {Readonly<Record<string, import("../types.js").Form>>} */
export const EXPOSURE_FORMS = {
  exposure: {
    operation: "exposure",
    label: "Exposure",
    groups: [
      { title: "Exposure", items: ["dose_mj_cm2", "defocus_um"] },
      { title: "Resist", items: ["resist", "thickness_nm"] },
    ],
    start: { dose_mj_cm2: 140, defocus_um: 0, resist: "demo-p12", thickness_nm: 1150 },
  },
};
