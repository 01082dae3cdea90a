/** Forms of the steps that add a film. */

/** @type {Readonly<Record<string, import("../types.js").Form>>} */
export const FILM_FORMS = {
  oxidation: {
    operation: "oxidation",
    label: "Oxidation",
    groups: [
      { title: "Wafer", items: ["orientation", "initial_oxide_nm"] },
      {
        title: "Recipe",
        items: [
          "ambient",
          "temperature_c",
          {
            mode: "until",
            label: "Run",
            options: [
              { word: "time", label: "for a time", fields: ["time_min"] },
              {
                word: "target",
                label: "to a thickness",
                fields: ["target_oxide_nm"],
              },
            ],
          },
        ],
      },
      { title: "Look", folded: true, items: ["lamp", "view_angle_deg"] },
      {
        title: "Model",
        folded: true,
        items: [
          "model",
          "parameter_set",
          "pressure_atm",
          "hcl_percent",
          {
            mode: "doped",
            label: "Wafer doping in the rate",
            options: [
              { word: "light", label: "light: no effect", fields: [] },
              {
                word: "given",
                label: "heavy: set by hand",
                fields: ["doping.dopant", "doping.concentration_cm3"],
              },
            ],
          },
        ],
      },
    ],
    start: {
      orientation: "100",
      initial_oxide_nm: 0,
      ambient: "wet",
      temperature_c: 1000,
      until: "time",
      time_min: 60,
      target_oxide_nm: 500,
      model: "auto",
      parameter_set: "deal_1988_steam",
      pressure_atm: 1,
      hcl_percent: 0,
      lamp: "d65",
      view_angle_deg: 0,
      doped: "light",
      "doping.dopant": "phosphorus",
      "doping.concentration_cm3": 1e20,
    },
  },
  spin_coating: {
    operation: "spin_coating",
    label: "Spin coating",
    groups: [
      {
        title: "Wafer and bottle",
        items: [
          "resist",
          {
            mode: "puddle",
            label: "Dispense",
            options: [
              { word: "height", label: "an even height", fields: ["dispense_um"] },
              { word: "volume", label: "a puddle in the middle", fields: ["dispense_ml"] },
            ],
          },
          {
            mode: "adhesion",
            label: "Wafer",
            options: [
              { word: "bare", label: "as it is", fields: [] },
              {
                word: "primed",
                label: "primed with HMDS vapor",
                set: { primed: true },
                fields: [],
              },
            ],
          },
        ],
      },
      { title: "Recipe", items: ["speed_rpm", "time_s", "acceleration_rpm_s"] },
      {
        title: "Step below the resist",
        folded: true,
        items: [
          {
            mode: "ground",
            label: "Ground",
            options: [
              { word: "flat", label: "flat", fields: [] },
              {
                word: "step",
                label: "with a step",
                fields: ["step.height_nm", "step.width_um", "step.radius_mm"],
              },
            ],
          },
        ],
      },
      {
        title: "Edge of the wafer",
        folded: true,
        items: ["wafer_diameter_mm", "bead_removal_mm"],
      },
      {
        title: "Spreading first",
        folded: true,
        items: [
          {
            mode: "spreading",
            label: "Slow spread before the spin",
            options: [
              { word: "off", label: "none", fields: [] },
              {
                word: "on",
                label: "set by hand",
                fields: ["spread.speed_rpm", "spread.time_s"],
              },
            ],
          },
        ],
      },
    ],
    start: {
      resist: "demo-p12",
      puddle: "height",
      dispense_um: 100,
      dispense_ml: 3,
      adhesion: "bare",
      speed_rpm: 4000,
      time_s: 60,
      acceleration_rpm_s: 5000,
      ground: "flat",
      "step.height_nm": 500,
      "step.width_um": 3,
      "step.radius_mm": 25,
      wafer_diameter_mm: 100,
      bead_removal_mm: 0,
      spreading: "off",
      "spread.speed_rpm": 500,
      "spread.time_s": 5,
    },
  },
  bake: {
    operation: "bake",
    label: "Bake",
    groups: [
      { title: "Film", items: ["resist", "thickness_nm"] },
      {
        title: "Hot plate",
        items: [
          "kind",
          "temperature_c",
          {
            mode: "until",
            label: "Bake",
            options: [
              { word: "time", label: "for a time", fields: ["time_s"] },
              {
                word: "target",
                label: "to a content of solvent (soft bake)",
                fields: ["target_solvent_percent"],
              },
            ],
          },
        ],
      },
      {
        title: "Solvent before",
        folded: true,
        items: [
          {
            mode: "wet",
            label: "Solvent in the film",
            options: [
              { word: "usual", label: "usual for the bake", fields: [] },
              { word: "given", label: "set by hand", fields: ["start_solvent_percent"] },
            ],
          },
        ],
      },
    ],
    start: {
      resist: "demo-p12",
      thickness_nm: 1300,
      kind: "soft",
      temperature_c: 100,
      until: "time",
      time_s: 60,
      target_solvent_percent: 5,
      wet: "usual",
      start_solvent_percent: 15,
    },
  },
  deposition: {
    operation: "deposition",
    label: "Deposition",
    groups: [
      {
        title: "Wafer",
        items: [
          {
            mode: "shape",
            label: "Surface",
            options: [
              { word: "flat", label: "flat", fields: [] },
              {
                word: "trench",
                label: "with a trench",
                fields: ["trench.width_um", "trench.depth_um"],
              },
            ],
          },
          "oxide_below_nm",
        ],
      },
      {
        title: "Film",
        items: [
          {
            mode: "recipe",
            label: "Film and method",
            options: [
              {
                word: "polysilicon",
                label: "polysilicon from silane (LPCVD)",
                set: { film: "polysilicon", method: "lpcvd" },
                fields: ["temperature_c"],
              },
              {
                word: "doped_polysilicon",
                label: "polysilicon doped while growing",
                set: { film: "polysilicon", method: "lpcvd" },
                fields: ["temperature_c", "dopant", "concentration_cm3"],
              },
              {
                word: "nitride",
                label: "silicon nitride (LPCVD)",
                set: {
                  film: "nitride",
                  method: "lpcvd",
                  variant: "stoichiometric",
                },
                fields: ["temperature_c"],
              },
              {
                word: "low_stress_nitride",
                label: "low-stress nitride (LPCVD)",
                set: {
                  film: "nitride",
                  method: "lpcvd",
                  variant: "low_stress",
                },
                fields: ["temperature_c"],
              },
              {
                word: "teos",
                label: "oxide from TEOS (LPCVD)",
                set: {
                  film: "deposited_oxide",
                  method: "lpcvd",
                  variant: "teos",
                },
                fields: ["temperature_c"],
              },
              {
                word: "lto",
                label: "low-temperature oxide (LPCVD)",
                set: {
                  film: "deposited_oxide",
                  method: "lpcvd",
                  variant: "lto",
                },
                fields: ["temperature_c"],
              },
              {
                word: "glass",
                label: "phosphorus glass (LPCVD)",
                set: { film: "phosphorus_glass", method: "lpcvd" },
                fields: ["temperature_c", "phosphorus_percent"],
              },
              {
                word: "reflowed_glass",
                label: "phosphorus glass, then reflow",
                set: { film: "phosphorus_glass", method: "lpcvd" },
                fields: [
                  "temperature_c",
                  "phosphorus_percent",
                  "reflow.temperature_c",
                  "reflow.time_min",
                ],
              },
              {
                word: "plasma_oxide",
                label: "plasma oxide (PECVD)",
                set: { film: "deposited_oxide", method: "pecvd" },
                fields: [],
              },
              {
                word: "plasma_nitride",
                label: "plasma nitride (PECVD)",
                set: { film: "nitride", method: "pecvd" },
                fields: [],
              },
              {
                word: "spun_glass",
                label: "spun-on glass (by thickness)",
                set: { film: "deposited_oxide", method: "spin_on" },
                fields: [],
              },
              {
                word: "sputtered",
                label: "aluminum, sputtered",
                set: { film: "aluminum", method: "sputter" },
                fields: [],
              },
              {
                word: "evaporated",
                label: "aluminum, evaporated",
                set: { film: "aluminum", method: "evaporation" },
                fields: ["source_height_mm", "wafer_diameter_mm"],
              },
            ],
          },
          {
            mode: "until",
            label: "Run",
            options: [
              { word: "time", label: "for a time", fields: ["time_min"] },
              {
                word: "target",
                label: "to a thickness",
                fields: ["target_nm"],
              },
            ],
          },
        ],
      },
      {
        title: "Model",
        folded: true,
        items: [
          {
            mode: "energy",
            label: "Activation energy",
            options: [
              { word: "usual", label: "of the film", fields: [] },
              {
                word: "given",
                label: "set by hand",
                fields: ["activation_energy_ev"],
              },
            ],
          },
          {
            mode: "gas",
            label: "Pressure in the tube",
            options: [
              { word: "usual", label: "usual for the film", fields: [] },
              { word: "given", label: "set by hand", fields: ["pressure_pa"] },
            ],
          },
        ],
      },
    ],
    start: {
      shape: "trench",
      "trench.width_um": 1,
      "trench.depth_um": 1,
      oxide_below_nm: 0,
      recipe: "polysilicon",
      temperature_c: 620,
      dopant: "phosphorus",
      concentration_cm3: 2e20,
      phosphorus_percent: 7,
      "reflow.temperature_c": 1050,
      "reflow.time_min": 30,
      source_height_mm: 300,
      wafer_diameter_mm: 100,
      until: "time",
      time_min: 30,
      target_nm: 400,
      energy: "usual",
      activation_energy_ev: 1.7,
      gas: "usual",
      pressure_pa: 33,
    },
  },
};
