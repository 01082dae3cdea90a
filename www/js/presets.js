/**
 * Named settings from the teaching cleanroom of the invented Tarn Vale College, where a class
 * makes its river-gauge chip. What a preset leaves out takes the value of a first visit.
 */

/** @type {Readonly<Record<string, readonly import("./types.js").Preset[]>>} */
export const PRESETS = {
  oxidation: [
    { name: "Class demonstration", note: "wet, 1000 °C, one hour", settings: {} },
    {
      name: "Field oxide of the gauge chip",
      note: "wet over the pad oxide, two hours",
      settings: { initial_oxide_nm: 31, time_min: 120 },
    },
    {
      name: "Gate oxide",
      note: "dry, thin and slow",
      settings: { ambient: "dry", time_min: 34 },
    },
    {
      name: "Pad oxide under nitride",
      note: "dry, 31 nm asked for",
      settings: { ambient: "dry", until: "target", target_oxide_nm: 31 },
    },
  ],
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
      settings: { resist: "demo-p20", speed_rpm: 3000 },
    },
  ],
  wet_etch: [
    {
      name: "Oxide window in buffered HF",
      note: "stopped just at clearing",
      settings: {},
    },
    {
      name: "Well window, 20 % over",
      note: "508 nm of field oxide",
      settings: { thickness_nm: 508, until: "clear", "mask.opening_um": 8 },
    },
    {
      name: "Aluminum lines",
      note: "warm mixed acid, lines get narrower",
      settings: {
        material: "aluminum",
        thickness_nm: 800,
        etchant: "aluminum_etch",
        masked: "line",
        time_s: 90,
      },
    },
    {
      name: "Nitride strip",
      note: "hot phosphoric acid, over an hour",
      settings: {
        material: "nitride",
        thickness_nm: 150,
        etchant: "phosphoric_85",
        masked: "none",
        time_s: 4200,
      },
    },
  ],
  predeposition: [
    { name: "Boron resistor", note: "950 °C, half an hour", settings: {} },
    {
      name: "Phosphorus source and drain",
      note: "1000 °C, 20 minutes",
      settings: {
        dopant: "phosphorus",
        temperature_c: 1000,
        time_min: 20,
        surface: "given",
        surface_concentration_cm3: 3e20,
      },
    },
  ],
  drive_in: [
    { name: "Boron resistor, driven in", note: "one hour at 1100 °C", settings: {} },
    {
      name: "n-well of the gauge chip",
      note: "implanted phosphorus, 8 hours at 1150 °C",
      settings: {
        start: "implantation",
        "start.dopant": "phosphorus",
        "start.energy_kev": 150,
        "start.dose_cm2": 3.8e12,
        temperature_c: 1150,
        time_min: 480,
      },
    },
    {
      name: "Drive-in under steam",
      note: "the growing oxide takes boron with it",
      settings: { ambient: "steam", time_min: 30 },
    },
  ],
  sheet: [
    { name: "Class demonstration", note: "a Gaussian of boron in n silicon", settings: {} },
    {
      name: "Boron resistor of the gauge chip",
      note: "predeposited at 950 °C; a line of 50 squares",
      settings: {
        start: "predeposition",
        "start.temperature_c": 950,
        current_ma: 0.5,
        line: "on",
      },
    },
    {
      name: "n-well",
      note: "implanted phosphorus in p silicon, 8 hours at 1150 °C",
      settings: {
        start: "implanted",
        "start.start.dopant": "phosphorus",
        "start.start.energy_kev": 150,
        "start.start.dose_cm2": 3.8e12,
        "start.temperature_c": 1150,
        "start.time_min": 480,
        "substrate.type": "p",
        "substrate.resistivity_ohm_cm": 10,
        current_ma: 0.05,
      },
    },
    {
      name: "Bare wafer from the store",
      note: "10 Ω cm, boron: what the probes read before any step",
      settings: {
        start: "bare",
        "substrate.type": "p",
        "substrate.resistivity_ohm_cm": 10,
      },
    },
    {
      name: "Profile from the teaching spectrometer",
      note: "a pasted table of depth and boron",
      settings: { start: "csv" },
    },
  ],
  implantation: [
    { name: "Class demonstration", note: "boron, 100 keV: the textbook crest", settings: {} },
    {
      name: "Threshold adjust",
      note: "a low dose of boron through 34 nm of gate oxide",
      settings: {
        energy_kev: 30,
        dose_cm2: 1.35e12,
        cover: "layer",
        "through[0].thickness_nm": 34,
      },
    },
    {
      name: "n-well",
      note: "phosphorus, 150 keV",
      settings: { dopant: "phosphorus", energy_kev: 150, dose_cm2: 3.8e12 },
    },
    {
      name: "n-channel source and drain",
      note: "arsenic through 34 nm oxide",
      settings: {
        dopant: "arsenic",
        dose_cm2: 5e15,
        cover: "layer",
        "through[0].thickness_nm": 34,
      },
    },
    {
      name: "p-channel source and drain",
      note: "BF₂: shallow boron",
      settings: { dopant: "bf2", energy_kev: 50, dose_cm2: 3e15 },
    },
    {
      name: "Resist as a mask",
      note: "does 1.15 µm of resist stop it?",
      settings: {
        cover: "layer",
        "through[0].material": "resist",
        "through[0].thickness_nm": 1150,
      },
    },
  ],
};
