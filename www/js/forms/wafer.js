/** What the forms of doping steps ask of the wafer. */

/** @typedef {import("../types.js").Mode} Mode */

/** @type {Mode} */
export const BACKGROUND = {
  mode: "wafer",
  label: "Wafer doping",
  options: [
    { word: "usual", label: "opposite type, 10¹⁵ cm⁻³", fields: [] },
    {
      word: "given",
      label: "set by hand",
      fields: ["substrate.type", "substrate.concentration_cm3"],
    },
  ],
};
