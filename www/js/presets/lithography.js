/** Named settings of the lithography benches. */

/** @type {Readonly<Record<string, readonly import("../types.js").Preset[]>>} */
export const LITHOGRAPHY = {
  spin_coating: [
    { name: "Window levels", note: "positive resist, 4000 rpm", settings: {} },
    {
      name: "Gate level",
      note: "thinner resist, for the finest lines",
      settings: { resist: "demo-p08", speed_rpm: 5000 },
    },
    {
      name: "Well cover",
      note: "negative resist",
      settings: { resist: "demo-n13", speed_rpm: 3500 },
    },
    {
      name: "Metal level",
      note: "thick resist over the steps",
      settings: {
        resist: "demo-p20",
        speed_rpm: 3000,
        adhesion: "primed",
        ground: "step",
        "step.height_nm": 800,
        "step.width_um": 4,
      },
    },
    {
      name: "For the contact aligner",
      note: "the bead washed off, so that the mask can touch",
      settings: { adhesion: "primed", puddle: "volume", bead_removal_mm: 3 },
    },
    {
      name: "Too fast for a large wafer",
      note: "200 mm at 6000 rpm: turbulent air outside",
      settings: { wafer_diameter_mm: 200, speed_rpm: 6000 },
    },
  ],
  bake: [
    { name: "Soft bake", note: "a minute at 100 °C", settings: {} },
    {
      name: "Too cool",
      note: "half a minute at 75 °C: the film stays soft",
      settings: { temperature_c: 75, time_s: 30 },
    },
    {
      name: "In the oven",
      note: "half an hour at 90 °C",
      settings: { temperature_c: 90, time_s: 1800 },
    },
    {
      name: "After the exposure",
      note: "standing waves blur",
      settings: { kind: "post_exposure", temperature_c: 110, thickness_nm: 1150 },
    },
    {
      name: "Hard bake",
      note: "before the plasma; hotter, and the walls flow",
      settings: { kind: "hard", temperature_c: 120, time_s: 120, thickness_nm: 1150 },
    },
  ],
  development: [
    { name: "Lines of half a micrometer", note: "a minute in TMAH", settings: {} },
    {
      name: "Under-developed",
      note: "taken out too early: scum",
      settings: { time_s: 8 },
    },
    {
      name: "Over-developed",
      note: "twice the dose, three minutes: thin lines",
      settings: { time_s: 180, "exposure.dose_mj_cm2": 280 },
    },
    {
      name: "Out of focus",
      note: "0.9 µm off: leaning walls, thinner resist",
      settings: { "exposure.defocus_um": 0.9 },
    },
    {
      name: "Standing waves",
      note: "no bake after the exposure",
      settings: { baked: "no", "exposure.dose_mj_cm2": 220 },
    },
    {
      name: "Negative resist",
      note: "what saw light stays",
      settings: { "exposure.resist": "demo-n13", "exposure.dose_mj_cm2": 400 },
    },
    {
      name: "Contact window",
      note: "a hole of 1 µm over oxide, half again past clearing",
      settings: {
        until: "clear",
        drawing: "contact_array",
        "exposure.mask.pitch_um": 3,
        "exposure.mask.opening_um": 1,
        "exposure.dose_mj_cm2": 160,
        below: "one",
        "exposure.stack_below[0].material": "deposited_oxide",
        "exposure.stack_below[0].thickness_nm": 600,
      },
    },
  ],
  exposure: [
    { name: "Class demonstration", note: "lines of 0.8 µm on an i-line stepper", settings: {} },
    {
      name: "Gate level on oxide",
      note: "34 nm of gate oxide and 400 nm of polysilicon below",
      settings: {
        "mask.pitch_um": 4,
        "mask.opening_um": 2,
        below: "two",
        "stack_below[0].material": "polysilicon",
        "stack_below[0].thickness_nm": 400,
        "stack_below[1].material": "thermal_oxide",
        "stack_below[1].thickness_nm": 34,
      },
    },
    {
      name: "Contact aligner",
      note: "g line, 2 µm lines, the mask on the resist",
      settings: {
        printing: "contact",
        lamp: "g",
        "mask.pitch_um": 4,
        "mask.opening_um": 2,
        dose_mj_cm2: 90,
      },
    },
    {
      name: "The same, 20 µm away",
      note: "proximity: fringes and soft edges",
      settings: {
        printing: "proximity",
        lamp: "g",
        "mask.pitch_um": 10,
        "mask.opening_um": 5,
        dose_mj_cm2: 90,
      },
    },
    {
      name: "Standing waves",
      note: "no bake after exposure",
      settings: { baked: "no" },
    },
    {
      name: "Out of focus",
      note: "1.2 µm off: what is left of 0.5 µm lines",
      settings: { defocus_um: 1.2, "mask.pitch_um": 1, "mask.opening_um": 0.5 },
    },
    {
      name: "Field oxide under the resist",
      note: "508 nm; the swing curve says what 20 nm more would do",
      settings: { below: "one", "stack_below[0].thickness_nm": 508, swings: "oxide" },
    },
    {
      name: "Well cover, negative resist",
      note: "exposed resist stays",
      settings: { resist: "demo-n13", thickness_nm: 1300, dose_mj_cm2: 60 },
    },
    {
      name: "Misaligned by a third of a line",
      note: "everything moves with the mask",
      settings: { "overlay_um.x": 0.25, drawing: "openings" },
    },
  ],
  process_window: [
    { name: "Class demonstration", note: "lines of 0.8 µm, i line", settings: {} },
    {
      name: "Near the limit",
      note: "lines of 0.5 µm: little room",
      settings: {
        "exposure.mask.pitch_um": 1,
        "exposure.mask.opening_um": 0.5,
        "exposure.dose_mj_cm2": 95,
        focus_span_um: 0.9,
      },
    },
    {
      name: "Single space",
      note: "a contact window in the dark",
      settings: { drawing: "isolated_space", "exposure.dose_mj_cm2": 120 },
    },
    {
      name: "Gap instead of focus",
      note: "proximity, 5 µm lines",
      settings: {
        printing: "proximity",
        "exposure.mask.pitch_um": 10,
        "exposure.mask.opening_um": 5,
        "exposure.dose_mj_cm2": 90,
        "exposure.gap_um": 12,
        focus_span_um: 10,
      },
    },
  ],
};
