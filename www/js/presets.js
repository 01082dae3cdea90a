import { LITHOGRAPHY } from "./presets/lithography.js";

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
  ...LITHOGRAPHY,
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
      name: "Pit with sloping walls",
      note: "KOH on silicon <100>; the walls meet",
      settings: {
        material: "silicon",
        etchant: "koh_30",
        thickness_nm: 20000,
        "mask.opening_um": 20,
        time_s: 900,
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
  deposition: [
    {
      name: "Class demonstration",
      note: "polysilicon in a trench: it follows every wall",
      settings: {},
    },
    {
      name: "Gate polysilicon",
      note: "flat, over 34 nm of gate oxide",
      settings: { shape: "flat", oxide_below_nm: 34, time_min: 40 },
    },
    {
      name: "Nitride mask",
      note: "over pad oxide, 43 minutes at 800 °C",
      settings: {
        shape: "flat",
        oxide_below_nm: 31,
        recipe: "nitride",
        temperature_c: 800,
        time_min: 43,
      },
    },
    {
      name: "Gap that keeps a void",
      note: "low-temperature oxide in a deep, narrow trench",
      settings: {
        recipe: "lto",
        temperature_c: 425,
        "trench.depth_um": 2.5,
        time_min: 150,
      },
    },
    {
      name: "Glass made to flow",
      note: "phosphorus glass over a step, half an hour at 1050 °C",
      settings: {
        recipe: "reflowed_glass",
        temperature_c: 425,
        until: "target",
        target_nm: 700,
        "trench.width_um": 2,
        "trench.depth_um": 0.6,
      },
    },
    {
      name: "Sputtered metal in a window",
      note: "thin on the walls, thin at the foot",
      settings: {
        recipe: "sputtered",
        until: "target",
        target_nm: 800,
        "trench.width_um": 2,
      },
    },
    {
      name: "Evaporated metal over a step",
      note: "straight down: the walls stay bare",
      settings: {
        recipe: "evaporated",
        until: "target",
        target_nm: 500,
        "trench.width_um": 2,
        "trench.depth_um": 0.8,
      },
    },
  ],
  dry_etch: [
    {
      name: "Gate of the gauge chip",
      note: "polysilicon over 34 nm of gate oxide",
      settings: {},
    },
    {
      name: "Fence at the field oxide",
      note: "stopped at the end point of the flat film",
      settings: { step_height_nm: 250, time_s: 100 },
    },
    {
      name: "Contact window in glass",
      note: "stops on silicon, slowly",
      settings: {
        chemistry: "chf3_o2",
        material: "phosphorus_glass",
        thickness_nm: 600,
        masked: "opening",
        below: "usual",
        until: "clear",
        over_etch_percent: 15,
      },
    },
    {
      name: "Metal over a step",
      note: "thick resist, and rinse at once",
      settings: {
        chemistry: "bcl3_cl2",
        material: "aluminum",
        thickness_nm: 800,
        step_height_nm: 500,
        "mask.line_um": 3,
        "mask.thickness_nm": 2000,
        "stop.material": "phosphorus_glass",
        "stop.thickness_nm": 600,
        until: "clear",
        over_etch_percent: 15,
      },
    },
    {
      name: "Round walls in SF₆",
      note: "the same film, half sideways",
      settings: { chemistry: "sf6", time_s: 90 },
    },
  ],
  resist_strip: [
    { name: "Ash in oxygen", note: "after every plasma etch", settings: {} },
    {
      name: "Soft resist in acetone",
      note: "only if it was not baked hard",
      settings: { method: "solvent", time_min: 1 },
    },
    {
      name: "Residue in piranha",
      note: "no metal on the wafer",
      settings: { method: "piranha", thickness_nm: 20, time_min: 10 },
    },
  ],
  planarization: [
    { name: "Glass over the gates", note: "half of the area is high", settings: {} },
    {
      name: "Filled trenches, stop on nitride",
      note: "600 nm of oxide over trenches of 400 nm",
      settings: { thickness_nm: 600, stopped: "nitride", time_s: 230 },
    },
    {
      name: "Few high places",
      note: "a fifth of the area carries all the load",
      settings: { dense_fraction: 0.2, time_s: 40 },
    },
    {
      name: "To 400 nm over the gates",
      note: "the time asked for",
      settings: { until: "target", target_nm: 400 },
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
    {
      name: "Arsenic from spun glass",
      note: "the film feeds the silicon slowly",
      settings: {
        dopant: "arsenic",
        temperature_c: 1050,
        time_min: 60,
        supply: "film",
        "glass.thickness_nm": 200,
      },
    },
    {
      name: "Three sets of diffusivities",
      note: "how far do the tables agree?",
      settings: { temperature_c: 1000, compare: "models" },
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
      name: "Which dopant for a deep well?",
      note: "phosphorus, arsenic and antimony, same heat",
      settings: {
        start: "implantation",
        "start.dopant": "phosphorus",
        "start.energy_kev": 150,
        "start.dose_cm2": 3.8e12,
        temperature_c: 1150,
        time_min: 480,
        compare: "dopants",
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
  anneal: [
    { name: "Source and drain", note: "implanted arsenic, 950 °C, 30 minutes", settings: {} },
    {
      name: "Rapid anneal",
      note: "lamps: 50 °C a second to 1000 °C, ten seconds",
      settings: {
        temperature_c: 1000,
        time_min: 0.17,
        heating: "ramp",
        "ramp.up_c_s": 50,
        "ramp.down_c_s": 30,
      },
    },
    {
      name: "Boron under dry oxygen",
      note: "injected interstitials speed it",
      settings: {
        "start.dopant": "boron",
        "start.energy_kev": 50,
        "start.dose_cm2": 1e14,
        ambient: "dry",
        temperature_c: 1000,
        interstitials: "on",
      },
    },
  ],
  implantation: [
    { name: "Class demonstration", note: "boron, 100 keV: the textbook crest", settings: {} },
    {
      name: "One ion at a time",
      note: "boron, 100 keV, followed from collision to collision",
      settings: { model: "monte_carlo" },
    },
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
    {
      name: "Through nitride and pad oxide",
      note: "the dose shared out over two layers",
      settings: {
        dopant: "phosphorus",
        energy_kev: 150,
        dose_cm2: 3.8e12,
        cover: "two",
        "through[0].material": "nitride",
        "through[0].thickness_nm": 100,
        "through[1].material": "thermal_oxide",
        "through[1].thickness_nm": 31,
      },
    },
    {
      name: "Straight down the crystal",
      note: "no tilt: what a channeling tail looks like, illustrative",
      settings: { energy_kev: 50, dose_cm2: 1e13, tilt_deg: 0, model: "dual_pearson" },
    },
    {
      name: "Heavy ion, heavy damage",
      note: "antimony: an amorphous layer",
      settings: { dopant: "antimony", energy_kev: 80, dose_cm2: 1e15 },
    },
  ],
};
