/** Forms of the steps that diffuse dopants: what each asks for, and where a first visit starts. */

import { BACKGROUND } from "./wafer.js";

/** @typedef {import("../types.js").Mode} Mode */

/** @type {Mode} */
const START = {
  mode: "start",
  label: "Start from",
  options: [
    {
      word: "predeposition",
      label: "a predeposition",
      set: { "start.operation": "predeposition" },
      fields: ["start.dopant", "start.temperature_c", "start.time_min"],
    },
    {
      word: "dose",
      label: "a dose at the surface",
      fields: ["start.dopant", "start.dose_cm2"],
    },
    {
      word: "implantation",
      label: "an implant",
      set: { "start.operation": "implantation" },
      fields: ["start.dopant", "start.energy_kev", "start.dose_cm2"],
    },
  ],
};

/** @type {Mode} */
const RAMP = {
  mode: "heating",
  label: "Heating and cooling",
  options: [
    { word: "none", label: "none: at temperature at once", fields: [] },
    {
      word: "ramp",
      label: "ramps, set by hand",
      fields: ["ramp.start_c", "ramp.up_c_s", "ramp.down_c_s"],
    },
  ],
};

/** @type {Mode} */
const INTERSTITIALS = {
  mode: "interstitials",
  label: "Diffusion enhanced by oxidation",
  options: [
    { word: "off", label: "no", fields: [] },
    {
      word: "on",
      label: "yes",
      set: { oxidation_enhanced_diffusion: true },
      fields: [],
    },
  ],
};

/** The part of a form that every heating of doped silicon has. */
const HEATING_MODEL = [
  RAMP,
  INTERSTITIALS,
  "initial_oxide_nm",
  "orientation",
  "evaporation_cm_s",
  "boron_segregation",
  "donor_segregation",
  "accuracy",
];

/** Where a first visit to them starts. */
const HEATING_START = {
  compare: "nothing",
  "start.dopant": "boron",
  "start.temperature_c": 950,
  "start.time_min": 30,
  "start.dose_cm2": 1e15,
  "start.energy_kev": 100,
  wafer: "usual",
  "substrate.type": "n",
  "substrate.concentration_cm3": 1e15,
  ambient: "inert",
  diffusivity: "plummer_2000",
  solution: "numerical",
  heating: "none",
  "ramp.start_c": 600,
  "ramp.up_c_s": 0.1,
  "ramp.down_c_s": 0.05,
  interstitials: "off",
  initial_oxide_nm: 0,
  orientation: "100",
  evaporation_cm_s: 0,
  boron_segregation: "antoniadis_1979",
  donor_segregation: 10,
  accuracy: "interactive",
};

/** @type {Readonly<Record<string, import("../types.js").Form>>} */
export const DIFFUSION_FORMS = {
  predeposition: {
    operation: "predeposition",
    label: "Predeposition",
    groups: [
      { title: "Wafer", items: [BACKGROUND] },
      {
        title: "Recipe",
        items: [
          "dopant",
          {
            mode: "supply",
            label: "Dopant source",
            options: [
              { word: "usual", label: "usual for the dopant", fields: [] },
              { word: "given", label: "chosen by hand", fields: ["source"] },
              {
                word: "film",
                label: "glass film of known content",
                set: { source: "doped_glass" },
                fields: ["glass.concentration_cm3", "glass.thickness_nm"],
              },
            ],
          },
          "temperature_c",
          "time_min",
        ],
      },
      { title: "Side by side", items: ["compare"] },
      {
        title: "Model",
        folded: true,
        items: [
          "diffusivity",
          "solution",
          {
            mode: "surface",
            label: "Surface concentration",
            options: [
              {
                word: "solubility",
                label: "what the source gives",
                fields: [],
              },
              {
                word: "given",
                label: "set by hand",
                fields: ["surface_concentration_cm3"],
              },
            ],
          },
          {
            mode: "tail",
            label: "Kink and tail of heavy phosphorus",
            options: [
              { word: "off", label: "left out", fields: [] },
              {
                word: "on",
                label: "illustrated (Fair, Tsai 1977)",
                set: { phosphorus_tail: true },
                fields: [],
              },
            ],
          },
        ],
      },
    ],
    start: {
      wafer: "usual",
      "substrate.type": "n",
      "substrate.concentration_cm3": 1e15,
      dopant: "boron",
      temperature_c: 950,
      time_min: 30,
      diffusivity: "plummer_2000",
      solution: "numerical",
      surface: "solubility",
      surface_concentration_cm3: 1e20,
      supply: "usual",
      source: "solid_disc",
      "glass.concentration_cm3": 2e21,
      "glass.thickness_nm": 300,
      compare: "nothing",
      tail: "off",
    },
  },
  drive_in: {
    operation: "drive_in",
    label: "Drive-in",
    groups: [
      { title: "Wafer", items: [START, BACKGROUND] },
      { title: "Recipe", items: ["temperature_c", "time_min", "ambient"] },
      { title: "Side by side", items: ["compare"] },
      {
        title: "Model",
        folded: true,
        items: ["diffusivity", "solution", ...HEATING_MODEL],
      },
    ],
    start: {
      ...HEATING_START,
      start: "predeposition",
      temperature_c: 1100,
      time_min: 60,
    },
  },
  anneal: {
    operation: "anneal",
    label: "Anneal",
    groups: [
      { title: "Wafer", items: [START, BACKGROUND] },
      { title: "Recipe", items: ["temperature_c", "time_min", "ambient"] },
      {
        title: "Model",
        folded: true,
        items: ["diffusivity", "solution", ...HEATING_MODEL],
      },
    ],
    start: {
      ...HEATING_START,
      start: "implantation",
      "start.dopant": "arsenic",
      "start.energy_kev": 60,
      "start.dose_cm2": 3e15,
      temperature_c: 950,
      time_min: 30,
    },
  },
};
