/**
 * What each operation's form asks for, in which order, and where a first visit starts. Labels,
 * units, ranges and word lists come from the kernel's schema; a field that the schema does not
 * know is not shown and not sent.
 */

/** @typedef {import("./types.js").Mode} Mode */

/** @type {Mode} */
const BACKGROUND = {
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

/** @type {Readonly<Record<string, import("./types.js").Form>>} */
export const FORMS = {
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
              { word: "target", label: "to a thickness", fields: ["target_oxide_nm"] },
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
      { title: "Wafer and bottle", items: ["resist", "dispense_um"] },
      { title: "Recipe", items: ["speed_rpm", "time_s", "acceleration_rpm_s"] },
      {
        title: "Spreading first",
        folded: true,
        items: [
          {
            mode: "spreading",
            label: "Slow spread before the spin",
            options: [
              { word: "off", label: "none", fields: [] },
              { word: "on", label: "set by hand", fields: ["spread.speed_rpm", "spread.time_s"] },
            ],
          },
        ],
      },
    ],
    start: {
      resist: "demo-p12",
      speed_rpm: 4000,
      time_s: 60,
      acceleration_rpm_s: 5000,
      dispense_um: 100,
      spreading: "off",
      "spread.speed_rpm": 500,
      "spread.time_s": 5,
    },
  },
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
              { word: "opening", label: "an opening", fields: ["mask.opening_um"] },
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
              { word: "clear", label: "past clearing", fields: ["over_etch_percent"] },
            ],
          },
          {
            mode: "bath",
            label: "Bath temperature",
            options: [
              { word: "usual", label: "usual for the bath", fields: [] },
              { word: "given", label: "set by hand", fields: ["temperature_c"] },
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
              { word: "given", label: "dilute HF: by hand", fields: ["concentration_percent"] },
            ],
          },
          {
            mode: "boron",
            label: "Boron in the silicon",
            options: [
              { word: "little", label: "little: no effect", fields: [] },
              { word: "given", label: "silicon in KOH or TMAH: by hand", fields: ["boron_cm3"] },
            ],
          },
          {
            mode: "rate",
            label: "Etch rate",
            options: [
              { word: "table", label: "from the table", fields: [] },
              { word: "given", label: "measured: by hand", fields: ["rate_nm_min"] },
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
                set: { film: "nitride", method: "lpcvd", variant: "stoichiometric" },
                fields: ["temperature_c"],
              },
              {
                word: "low_stress_nitride",
                label: "low-stress nitride (LPCVD)",
                set: { film: "nitride", method: "lpcvd", variant: "low_stress" },
                fields: ["temperature_c"],
              },
              {
                word: "teos",
                label: "oxide from TEOS (LPCVD)",
                set: { film: "deposited_oxide", method: "lpcvd", variant: "teos" },
                fields: ["temperature_c"],
              },
              {
                word: "lto",
                label: "low-temperature oxide (LPCVD)",
                set: { film: "deposited_oxide", method: "lpcvd", variant: "lto" },
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
              { word: "target", label: "to a thickness", fields: ["target_nm"] },
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
              { word: "given", label: "set by hand", fields: ["activation_energy_ev"] },
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
              { word: "clear", label: "past clearing", fields: ["over_etch_percent"] },
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
              { word: "given", label: "measured: by hand", fields: ["selectivity"] },
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
              { word: "given", label: "measured: by hand", fields: ["preston_per_pa"] },
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
              { word: "solubility", label: "what the source gives", fields: [] },
              { word: "given", label: "set by hand", fields: ["surface_concentration_cm3"] },
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
      { title: "Model", folded: true, items: ["diffusivity", "solution", ...HEATING_MODEL] },
    ],
    start: { ...HEATING_START, start: "predeposition", temperature_c: 1100, time_min: 60 },
  },
  anneal: {
    operation: "anneal",
    label: "Anneal",
    groups: [
      { title: "Wafer", items: [START, BACKGROUND] },
      { title: "Recipe", items: ["temperature_c", "time_min", "ambient"] },
      { title: "Model", folded: true, items: ["diffusivity", "solution", ...HEATING_MODEL] },
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
      { title: "Probes", items: ["current_ma", "probe_spacing_mm", "wafer_diameter_mm"] },
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
              { word: "on", label: "set by hand", fields: ["length_um", "width_um", "corners"] },
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
              { word: "limited", label: "limited at the last anneal", fields: ["active_limit_c"] },
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
};

/**
 * The form of an operation.
 * @param {string} operation
 */
export function formOf(operation) {
  const form = FORMS[operation];
  if (!form) throw new Error(`no form for the operation ${operation}`);
  return form;
}
