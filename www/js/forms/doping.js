/** Forms of the beam and of the probes. */

import { BACKGROUND } from "./wafer.js";

/** @type {Readonly<Record<string, import("../types.js").Form>>} */
export const DOPING_FORMS = {
  implantation: {
    operation: "implantation",
    label: "Implantation",
    groups: [
      {
        title: "Wafer",
        items: [
          {
            mode: "cover",
            label: "Layer on the silicon",
            options: [
              { word: "none", label: "none: bare silicon", fields: [] },
              {
                word: "layer",
                label: "one layer",
                fields: ["through[0].material", "through[0].thickness_nm"],
              },
              {
                word: "two",
                label: "two layers",
                fields: [
                  "through[0].material",
                  "through[0].thickness_nm",
                  "through[1].material",
                  "through[1].thickness_nm",
                ],
              },
            ],
          },
          BACKGROUND,
        ],
      },
      { title: "Beam", items: ["dopant", "energy_kev", "dose_cm2"] },
      {
        title: "Angles, model, current",
        folded: true,
        items: [
          "tilt_deg",
          "rotation_deg",
          "model",
          { when: "model", is: "monte_carlo", fields: ["ions", "seed"] },
          {
            mode: "statistics",
            label: "Range and straggle",
            options: [
              { word: "table", label: "from a table", fields: ["range_table"] },
              {
                word: "given",
                label: "set by hand",
                fields: [
                  "moments.projected_range_nm",
                  "moments.straggle_nm",
                  "moments.lateral_straggle_nm",
                  "moments.skewness",
                  "moments.kurtosis",
                ],
              },
            ],
          },
          "mask_leak",
          {
            mode: "beam",
            label: "Beam time",
            options: [
              { word: "off", label: "not asked", fields: [] },
              {
                word: "on",
                label: "from the current",
                fields: ["beam_current_ua", "wafer_diameter_mm", "charge_state"],
              },
            ],
          },
        ],
      },
    ],
    start: {
      cover: "none",
      "through[0].material": "thermal_oxide",
      "through[0].thickness_nm": 35,
      "through[1].material": "thermal_oxide",
      "through[1].thickness_nm": 31,
      wafer: "usual",
      "substrate.type": "n",
      "substrate.concentration_cm3": 1e15,
      dopant: "boron",
      energy_kev: 100,
      dose_cm2: 1e14,
      tilt_deg: 7,
      rotation_deg: 22,
      model: "pearson",
      ions: 5000,
      seed: 1,
      statistics: "table",
      range_table: "gibbons_1975",
      "moments.projected_range_nm": 300,
      "moments.straggle_nm": 70,
      "moments.lateral_straggle_nm": 85,
      "moments.skewness": -0.9,
      "moments.kurtosis": 5,
      mask_leak: 1e-4,
      beam: "off",
      beam_current_ua: 100,
      wafer_diameter_mm: 100,
      charge_state: 1,
    },
  },
  sheet: {
    operation: "sheet",
    label: "Sheet resistance",
    texts: {
      "profile.csv": {
        label: "Table of depth and concentration",
        help: "First line: depth_um or depth_nm, then boron_cm3, phosphorus_cm3, arsenic_cm3 or net_cm3. Commas, semicolons or tabs. The table stays in this page; a link does not carry it.",
      },
    },
    groups: [
      {
        title: "Wafer",
        items: [
          {
            mode: "start",
            label: "Profile",
            options: [
              {
                word: "gaussian",
                label: "a Gaussian",
                fields: [
                  "start.gaussian.dopant",
                  "start.gaussian.dose_cm2",
                  "start.gaussian.projected_range_nm",
                  "start.gaussian.straggle_nm",
                ],
              },
              {
                word: "predeposition",
                label: "a predeposition",
                set: { "start.operation": "predeposition" },
                fields: ["start.dopant", "start.temperature_c", "start.time_min"],
              },
              {
                word: "driven",
                label: "a dose, driven in",
                set: { "start.operation": "drive_in" },
                fields: [
                  "start.start.dopant",
                  "start.start.dose_cm2",
                  "start.temperature_c",
                  "start.time_min",
                ],
              },
              {
                word: "implanted",
                label: "an implant, driven in",
                set: {
                  "start.operation": "drive_in",
                  "start.start.operation": "implantation",
                },
                fields: [
                  "start.start.dopant",
                  "start.start.energy_kev",
                  "start.start.dose_cm2",
                  "start.temperature_c",
                  "start.time_min",
                ],
              },
              { word: "csv", label: "a pasted table", fields: ["profile.csv"] },
              { word: "bare", label: "none: bare wafer", fields: [] },
            ],
          },
          {
            ...BACKGROUND,
            options: [
              {
                word: "ordered",
                label: "by its resistivity",
                fields: ["substrate.type", "substrate.resistivity_ohm_cm"],
              },
              ...BACKGROUND.options,
            ],
          },
          "wafer_thickness_um",
        ],
      },
      {
        title: "Probes",
        items: ["current_ma", "probe_spacing_mm", "wafer_diameter_mm"],
      },
      {
        title: "Contacts and lines",
        folded: true,
        items: [
          {
            mode: "contacts",
            label: "Van der Pauw",
            options: [
              { word: "off", label: "not measured", fields: [] },
              {
                word: "on",
                label: "two resistances",
                fields: ["resistance_a_ohm", "resistance_b_ohm"],
              },
            ],
          },
          {
            mode: "line",
            label: "Line of this layer",
            options: [
              { word: "off", label: "none", fields: [] },
              {
                word: "on",
                label: "set by hand",
                fields: ["length_um", "width_um", "corners"],
              },
            ],
          },
        ],
      },
      {
        title: "Model",
        folded: true,
        items: [
          "mobility",
          {
            mode: "activation",
            label: "Active part",
            options: [
              { word: "all", label: "all dopant", fields: [] },
              {
                word: "limited",
                label: "limited at the last anneal",
                fields: ["active_limit_c"],
              },
            ],
          },
          "layer",
        ],
      },
    ],
    start: {
      start: "gaussian",
      "start.gaussian.dopant": "boron",
      "start.gaussian.dose_cm2": 1e15,
      "start.gaussian.projected_range_nm": 0,
      "start.gaussian.straggle_nm": 400,
      "start.dopant": "boron",
      "start.temperature_c": 1000,
      "start.time_min": 30,
      "start.start.dopant": "boron",
      "start.start.dose_cm2": 1e15,
      "start.start.energy_kev": 80,
      "profile.csv":
        "depth_um,boron_cm3\n0,9e19\n0.1,8e19\n0.2,4e19\n0.3,9e18\n0.4,1e18\n0.5,6e16\n0.6,3e15\n0.7,1e14\n0.8,1e13\n",
      wafer: "ordered",
      "substrate.type": "n",
      "substrate.resistivity_ohm_cm": 4.5,
      "substrate.concentration_cm3": 1e15,
      wafer_thickness_um: 525,
      current_ma: 1,
      probe_spacing_mm: 1,
      wafer_diameter_mm: 100,
      contacts: "off",
      resistance_a_ohm: 12,
      resistance_b_ohm: 30,
      line: "off",
      length_um: 500,
      width_um: 10,
      corners: 0,
      mobility: "masetti_1983",
      activation: "all",
      active_limit_c: 1000,
      layer: 1,
    },
  },
};
