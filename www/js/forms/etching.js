/** Forms of the steps that take a film away. */

/** @type {Readonly<Record<string, import("../types.js").Form>>} */
export const ETCHING_FORMS = {
  wet_etch: {
    operation: "wet_etch",
    label: "Wet etch",
    groups: [
      {
        title: "Wafer",
        items: [
          "material",
          "thickness_nm",
          {
            mode: "masked",
            label: "Resist mask",
            options: [
              { word: "none", label: "none: the whole film", fields: [] },
              {
                word: "opening",
                label: "an opening",
                fields: ["mask.opening_um"],
              },
              { word: "line", label: "a line", fields: ["mask.line_um"] },
            ],
          },
        ],
      },
      {
        title: "Bath",
        items: [
          "etchant",
          {
            mode: "until",
            label: "Etch",
            options: [
              { word: "time", label: "for a time", fields: ["time_s"] },
              {
                word: "clear",
                label: "past clearing",
                fields: ["over_etch_percent"],
              },
            ],
          },
          {
            mode: "bath",
            label: "Bath temperature",
            options: [
              { word: "usual", label: "usual for the bath", fields: [] },
              {
                word: "given",
                label: "set by hand",
                fields: ["temperature_c"],
              },
            ],
          },
        ],
      },
      {
        title: "Spread and model",
        folded: true,
        items: [
          "film_spread_percent",
          "rate_spread_percent",
          {
            mode: "grade",
            label: "Grade of the film",
            options: [
              { word: "usual", label: "the usual one", fields: [] },
              { word: "given", label: "set by hand", fields: ["variant"] },
            ],
          },
          {
            mode: "strength",
            label: "Strength of the acid",
            options: [
              { word: "usual", label: "usual for the bath", fields: [] },
              {
                word: "given",
                label: "dilute HF: by hand",
                fields: ["concentration_percent"],
              },
            ],
          },
          {
            mode: "boron",
            label: "Boron in the silicon",
            options: [
              { word: "little", label: "little: no effect", fields: [] },
              {
                word: "given",
                label: "silicon in KOH or TMAH: by hand",
                fields: ["boron_cm3"],
              },
            ],
          },
          {
            mode: "rate",
            label: "Etch rate",
            options: [
              { word: "table", label: "from the table", fields: [] },
              {
                word: "given",
                label: "measured: by hand",
                fields: ["rate_nm_min"],
              },
            ],
          },
        ],
      },
    ],
    start: {
      material: "thermal_oxide",
      thickness_nm: 500,
      masked: "opening",
      "mask.opening_um": 4,
      "mask.line_um": 6,
      etchant: "bhf_5_1",
      until: "time",
      time_s: 300,
      over_etch_percent: 20,
      bath: "usual",
      temperature_c: 21,
      film_spread_percent: 5,
      rate_spread_percent: 5,
      grade: "usual",
      variant: "wet",
      strength: "usual",
      concentration_percent: 10,
      boron: "little",
      boron_cm3: 1e20,
      rate: "table",
      rate_nm_min: 100,
    },
  },
  dry_etch: {
    operation: "dry_etch",
    label: "Dry etch",
    groups: [
      {
        title: "Wafer",
        items: [
          "material",
          "thickness_nm",
          "step_height_nm",
          {
            mode: "below",
            label: "Layer below",
            options: [
              { word: "usual", label: "usual for the film", fields: [] },
              {
                word: "given",
                label: "set by hand",
                fields: ["stop.material", "stop.thickness_nm"],
              },
            ],
          },
          {
            mode: "masked",
            label: "Resist mask",
            options: [
              { word: "none", label: "none: the whole film", fields: [] },
              {
                word: "opening",
                label: "an opening",
                fields: ["mask.opening_um", "mask.thickness_nm"],
              },
              {
                word: "line",
                label: "a line",
                fields: ["mask.line_um", "mask.thickness_nm"],
              },
            ],
          },
        ],
      },
      {
        title: "Plasma",
        items: [
          "chemistry",
          {
            mode: "until",
            label: "Etch",
            options: [
              { word: "time", label: "for a time", fields: ["time_s"] },
              {
                word: "clear",
                label: "past clearing",
                fields: ["over_etch_percent"],
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
            mode: "choosy",
            label: "Selectivity to the layer below",
            options: [
              { word: "table", label: "from the table", fields: [] },
              {
                word: "given",
                label: "measured: by hand",
                fields: ["selectivity"],
              },
            ],
          },
        ],
      },
    ],
    start: {
      material: "polysilicon",
      thickness_nm: 400,
      step_height_nm: 0,
      below: "given",
      "stop.material": "thermal_oxide",
      "stop.thickness_nm": 34,
      masked: "line",
      "mask.opening_um": 2,
      "mask.line_um": 2,
      "mask.thickness_nm": 1150,
      chemistry: "hbr_cl2",
      until: "time",
      time_s: 110,
      over_etch_percent: 20,
      choosy: "table",
      selectivity: 30,
    },
  },
  resist_strip: {
    operation: "resist_strip",
    label: "Resist strip",
    groups: [
      { title: "Wafer", items: ["thickness_nm"] },
      { title: "Recipe", items: ["method", "time_min"] },
    ],
    start: { thickness_nm: 1150, method: "oxygen_plasma", time_min: 3 },
  },
  planarization: {
    operation: "planarization",
    label: "Polishing",
    groups: [
      {
        title: "Wafer",
        items: [
          "material",
          "thickness_nm",
          "step_height_nm",
          "dense_fraction",
          {
            mode: "stopped",
            label: "Stop layer on the high places",
            options: [
              { word: "none", label: "none", fields: [] },
              {
                word: "nitride",
                label: "silicon nitride",
                set: { "stop.material": "nitride" },
                fields: [],
              },
              {
                word: "given",
                label: "set by hand",
                fields: ["stop.material", "selectivity"],
              },
            ],
          },
        ],
      },
      {
        title: "Recipe",
        items: [
          {
            mode: "until",
            label: "Polish",
            options: [
              { word: "time", label: "for a time", fields: ["time_s"] },
              { word: "target", label: "to a film", fields: ["target_nm"] },
            ],
          },
          "pressure_kpa",
          "speed_m_s",
        ],
      },
      {
        title: "Model",
        folded: true,
        items: [
          {
            mode: "pad",
            label: "Preston coefficient",
            options: [
              { word: "usual", label: "usual for oxide", fields: [] },
              {
                word: "given",
                label: "measured: by hand",
                fields: ["preston_per_pa"],
              },
            ],
          },
        ],
      },
    ],
    start: {
      material: "deposited_oxide",
      thickness_nm: 1000,
      step_height_nm: 400,
      dense_fraction: 0.5,
      stopped: "none",
      "stop.material": "nitride",
      selectivity: 4,
      until: "time",
      time_s: 90,
      target_nm: 400,
      pressure_kpa: 28,
      speed_m_s: 0.7,
      pad: "usual",
      preston_per_pa: 1e-13,
    },
  },
};
