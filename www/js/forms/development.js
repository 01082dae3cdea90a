/** The form of the developer, with that of the exposure before it. */

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
      {
        title: "Exposure before",
        items: [
          "exposure.dose_mj_cm2",
          "exposure.defocus_um",
          {
            mode: "baked",
            label: "Bake after exposure",
            options: [
              {
                word: "on",
                label: "on a hot plate",
                fields: [
                  "exposure.post_exposure_bake.temperature_c",
                  "exposure.post_exposure_bake.time_s",
                ],
              },
              {
                word: "off",
                label: "none",
                set: { "exposure.post_exposure_bake": null },
                fields: [],
              },
            ],
          },
        ],
      },
      {
        title: "Mask and resist",
        folded: true,
        items: [
          "exposure.mask.pattern",
          "exposure.mask.pitch_um",
          "exposure.mask.opening_um",
          "exposure.resist",
          "exposure.thickness_nm",
          {
            mode: "below",
            label: "Below the resist",
            options: [
              { word: "bare", label: "bare silicon", fields: [] },
              {
                word: "film",
                label: "a film",
                fields: ["exposure.stack_below[0].material", "exposure.stack_below[0].thickness_nm"],
              },
            ],
          },
        ],
      },
      {
        title: "Light",
        folded: true,
        items: [
          "exposure.tool",
          "exposure.wavelength_nm",
          {
            when: "exposure.tool",
            is: "projection",
            fields: ["exposure.numerical_aperture", "exposure.partial_coherence"],
          },
          { when: "exposure.tool", is: "proximity", fields: ["exposure.gap_um"] },
        ],
      },
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
      developer: "tmah_2_38",
      until: "time",
      time_s: 60,
      over_develop_percent: 50,
      temperature_c: 21,
      normality: 0.26,
      "exposure.dose_mj_cm2": 140,
      "exposure.defocus_um": 0,
      baked: "on",
      "exposure.post_exposure_bake.temperature_c": 110,
      "exposure.post_exposure_bake.time_s": 60,
      "exposure.mask.pattern": "line_space",
      "exposure.mask.pitch_um": 1,
      "exposure.mask.opening_um": 0.5,
      "exposure.resist": "demo-p12",
      "exposure.thickness_nm": 1150,
      below: "bare",
      "exposure.stack_below[0].material": "thermal_oxide",
      "exposure.stack_below[0].thickness_nm": 300,
      "exposure.tool": "projection",
      "exposure.wavelength_nm": 365,
      "exposure.numerical_aperture": 0.5,
      "exposure.partial_coherence": 0.5,
      "exposure.gap_um": 20,
      "rate_parameters.fastest_nm_s": 100,
      "rate_parameters.slowest_nm_s": 0.1,
      "rate_parameters.threshold_pac": 0.35,
      "rate_parameters.order": 5,
      "rate_parameters.surface_ratio": 1,
      "rate_parameters.inhibition_depth_nm": 100,
    },
  },
};
