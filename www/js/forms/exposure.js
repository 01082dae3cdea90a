/**
 * The form of the aligner and of its process window. The fields of an exposure stand in the form of
 * every step that follows it, under a prefix.
 */

/** @typedef {import("../types.js").Form} Form */
/** @typedef {import("../types.js").Group} Group */
/** @typedef {import("../types.js").Settings} Settings */

/** What a step after the exposure puts before the exposure's fields. */
export const EXPOSED = "exposure.";

const PITCH = "mask.pitch_um";
const OPENING = "mask.opening_um";

/** @type {Group[]} */
const LIGHT = [
  {
    title: "Light",
    items: [
      {
        mode: "shutter",
        label: "Shutter",
        options: [
          { word: "dose", label: "by dose", fields: ["dose_mj_cm2"] },
          { word: "time", label: "by time", fields: ["irradiance_mw_cm2", "time_s"] },
        ],
      },
      {
        mode: "printing",
        label: "Tool",
        options: [
          {
            word: "projection",
            label: "stepper: a lens",
            set: { tool: "projection" },
            fields: ["defocus_um", "numerical_aperture", "partial_coherence"],
          },
          {
            word: "proximity",
            label: "proximity: a gap",
            set: { tool: "proximity" },
            fields: ["gap_um", "collimation_deg"],
          },
          {
            word: "contact",
            label: "hard contact",
            set: { tool: "contact" },
            fields: ["collimation_deg"],
          },
        ],
      },
      {
        mode: "lamp",
        label: "Mercury line",
        options: [
          { word: "i", label: "i, 365 nm", set: { wavelength_nm: 365 }, fields: [] },
          { word: "h", label: "h, 405 nm", set: { wavelength_nm: 405 }, fields: [] },
          { word: "g", label: "g, 436 nm", set: { wavelength_nm: 436 }, fields: [] },
        ],
      },
    ],
  },
  {
    title: "Mask",
    items: [
      {
        mode: "drawing",
        label: "Drawing",
        options: [
          {
            word: "line_space",
            label: "lines and spaces",
            set: { "mask.pattern": "line_space" },
            fields: [PITCH, OPENING],
          },
          {
            word: "isolated_line",
            label: "a single line: the pitch less the opening",
            set: { "mask.pattern": "isolated_line" },
            fields: [PITCH, OPENING],
          },
          {
            word: "isolated_space",
            label: "a single space",
            set: { "mask.pattern": "isolated_space" },
            fields: [OPENING],
          },
          { word: "edge", label: "an edge", set: { "mask.pattern": "edge" }, fields: [] },
          {
            word: "contact_array",
            label: "square holes",
            set: { "mask.pattern": "contact_array" },
            fields: [PITCH, OPENING],
          },
          {
            word: "openings",
            label: "two parts by their ends",
            set: { "mask.pattern": "openings" },
            fields: [
              "mask.polarity",
              "mask.openings_um[0][0]",
              "mask.openings_um[0][1]",
              "mask.openings_um[1][0]",
              "mask.openings_um[1][1]",
            ],
          },
        ],
      },
    ],
  },
  {
    title: "Resist and what lies below",
    items: [
      "resist",
      "thickness_nm",
      {
        mode: "below",
        label: "Films on the silicon",
        options: [
          { word: "none", label: "none", fields: [] },
          {
            word: "one",
            label: "one",
            fields: ["stack_below[0].material", "stack_below[0].thickness_nm"],
          },
          {
            word: "two",
            label: "two, the upper first",
            fields: [
              "stack_below[0].material",
              "stack_below[0].thickness_nm",
              "stack_below[1].material",
              "stack_below[1].thickness_nm",
            ],
          },
        ],
      },
      {
        mode: "baked",
        label: "Bake after exposure",
        options: [
          {
            word: "yes",
            label: "on the hot plate",
            fields: ["post_exposure_bake.temperature_c", "post_exposure_bake.time_s"],
          },
          { word: "no", label: "none", set: { post_exposure_bake: null }, fields: [] },
        ],
      },
    ],
  },
];

/** @type {Group} */
const OVERLAY = {
  title: "Overlay",
  folded: true,
  items: [
    "overlay_um.x",
    "alignment.scale_ppm",
    "alignment.rotation_urad",
    "alignment.place_mm.x",
    "alignment.place_mm.y",
  ],
};

/** @type {Group} */
const MODEL = {
  title: "Model",
  folded: true,
  items: [
    "focus_in_resist",
    {
      mode: "bleaching",
      label: "Resist in light",
      options: [
        { word: "usual", label: "the demo resist", fields: [] },
        {
          word: "given",
          label: "set by hand",
          fields: [
            "resist_parameters.bleachable_per_um",
            "resist_parameters.residual_per_um",
            "resist_parameters.bleach_rate_cm2_mj",
            "resist_parameters.index",
          ],
        },
      ],
    },
    "k1",
    "k2",
    "source_rings",
  ],
};

/** @type {Group} */
const SWING = {
  title: "Swing curves",
  folded: true,
  items: [
    {
      mode: "swings",
      label: "Dose to clear against",
      options: [
        { word: "off", label: "nothing", fields: [] },
        { word: "resist", label: "resist", fields: ["swing_span_nm"] },
        { word: "oxide", label: "oxide", fields: ["oxide_swing_nm"] },
        { word: "both", label: "both", fields: ["swing_span_nm", "oxide_swing_nm"] },
      ],
    },
  ],
};

/** @type {Settings} */
const START = {
  shutter: "dose",
  dose_mj_cm2: 110,
  irradiance_mw_cm2: 400,
  time_s: 0.28,
  printing: "projection",
  defocus_um: 0,
  numerical_aperture: 0.5,
  partial_coherence: 0.5,
  gap_um: 20,
  collimation_deg: 3,
  lamp: "i",
  drawing: "line_space",
  "mask.pitch_um": 1.6,
  "mask.opening_um": 0.8,
  "mask.polarity": "dark_field",
  "mask.openings_um[0][0]": -1.5,
  "mask.openings_um[0][1]": -0.5,
  "mask.openings_um[1][0]": 0.5,
  "mask.openings_um[1][1]": 1.2,
  resist: "demo-p12",
  thickness_nm: 1150,
  below: "none",
  "stack_below[0].material": "thermal_oxide",
  "stack_below[0].thickness_nm": 500,
  "stack_below[1].material": "polysilicon",
  "stack_below[1].thickness_nm": 400,
  baked: "yes",
  "post_exposure_bake.temperature_c": 110,
  "post_exposure_bake.time_s": 60,
  "overlay_um.x": 0,
  "alignment.scale_ppm": 0,
  "alignment.rotation_urad": 0,
  "alignment.place_mm.x": 0,
  "alignment.place_mm.y": 0,
  focus_in_resist: "same",
  bleaching: "usual",
  "resist_parameters.bleachable_per_um": 0.8,
  "resist_parameters.residual_per_um": 0.08,
  "resist_parameters.bleach_rate_cm2_mj": 0.016,
  "resist_parameters.index": 1.7,
  k1: 0.8,
  k2: 0.5,
  source_rings: 16,
  swings: "off",
  swing_span_nm: 300,
  oxide_swing_nm: 300,
};

/** Settings that choose an option and are no field of the request. */
const MODES = new Set(
  [...LIGHT, OVERLAY, MODEL, SWING]
    .flatMap((group) => group.items)
    .flatMap((item) => (typeof item === "object" && "mode" in item ? [item.mode] : [])),
);

/**
 * A group with its fields under the prefix of a step after the exposure.
 * @param {Group} group
 * @returns {Group}
 */
function after(group) {
  /** @param {string[]} fields */
  const moved = (fields) => fields.map((path) => EXPOSED + path);
  return {
    ...group,
    items: group.items.map((item) => {
      if (typeof item === "string") return EXPOSED + item;
      if (!("mode" in item)) {
        return { ...item, when: EXPOSED + item.when, fields: moved(item.fields) };
      }
      const options = item.options.map(({ set = {}, fields, ...option }) => ({
        ...option,
        set: Object.fromEntries(Object.entries(set).map(([path, word]) => [EXPOSED + path, word])),
        fields: moved(fields),
      }));
      return { ...item, options };
    }),
  };
}

/**
 * The settings of an exposure as those of a step after it.
 * @param {Settings} settings
 * @returns {Settings}
 */
export function afterExposure(settings) {
  return Object.fromEntries(
    Object.entries(settings).map(([key, value]) => [MODES.has(key) ? key : EXPOSED + key, value]),
  );
}

/**
 * The groups of an exposure for the form of a step after it.
 * @type {readonly Group[]}
 */
export const EXPOSURE_BEFORE = [...LIGHT, OVERLAY, MODEL].map((group) => ({
  ...after(group),
  folded: true,
}));

/** Where a first visit of a step after an exposure starts. */
export const EXPOSURE_START = afterExposure(START);

/** @type {Readonly<Record<string, Form>>} */
export const EXPOSURE_FORMS = {
  exposure: {
    operation: "exposure",
    label: "Exposure",
    groups: [...LIGHT, SWING, OVERLAY, MODEL],
    start: START,
  },
  process_window: {
    operation: "process_window",
    label: "Process window",
    groups: [
      {
        title: "Window",
        items: ["dose_span_percent", "focus_span_um", "tolerance_percent", "latitude_percent"],
      },
      ...LIGHT.map(after),
      { title: "Developer", folded: true, items: ["developer", "time_s", "temperature_c"] },
      { title: "Points", folded: true, items: ["doses", "focuses", "exposure.grid_nm"] },
      after(MODEL),
    ],
    start: {
      ...EXPOSURE_START,
      dose_span_percent: 30,
      focus_span_um: 1.5,
      tolerance_percent: 10,
      latitude_percent: 10,
      developer: "tmah_2_38",
      time_s: 60,
      temperature_c: 21,
      doses: 9,
      focuses: 9,
      "exposure.grid_nm": 10,
    },
  },
};
