/**
 * The benches, in the order of the strip. The family of a bench is the part of the kernel that has
 * its operations; it is loaded when the bench is first opened.
 */

/** @type {readonly import("./types.js").Bench[]} */
export const BENCHES = [
  {
    id: "furnace",
    family: "films",
    name: "Furnace",
    question: "How thick does the oxide grow, and how much silicon does it use up?",
    operations: ["oxidation"],
    exercise: "ox-wet-field",
  },
  {
    id: "spinner",
    family: "lithography",
    name: "Spinner",
    question: "How thick a film does a spinning wafer keep, and what does the bake leave?",
    operations: ["spin_coating", "bake"],
    exercise: "spin-speed",
  },
  {
    id: "aligner",
    family: "lithography",
    name: "Aligner",
    question: "How sharp is the light behind the mask, and how deep does it reach into the resist?",
    operations: ["exposure", "process_window"],
    exercise: "lit-resolution",
  },
  {
    id: "developer",
    family: "lithography",
    name: "Developer",
    question: "Where does the developer stop, and how upright are the walls of resist?",
    operations: ["development"],
    exercise: "dev-dark-loss",
  },
  {
    id: "wet-bench",
    family: "etching",
    name: "Wet bench",
    question: "When is the film gone, and how far has the acid gone sideways?",
    operations: ["wet_etch"],
    exercise: "etch-bias",
  },
  {
    id: "deposition",
    family: "films",
    name: "Deposition bench",
    question: "How thick does the film grow, and how well does it cover a trench?",
    operations: ["deposition"],
    exercise: "dep-poly-time",
  },
  {
    id: "dry-etcher",
    family: "etching",
    name: "Dry etcher",
    question: "Is the film gone at the step too, and what is left of the layer below?",
    operations: ["dry_etch", "resist_strip"],
    exercise: "etch-selectivity",
  },
  {
    id: "polisher",
    family: "etching",
    name: "Polisher",
    question: "When is the wafer level, and how much film is left on the high places?",
    operations: ["planarization"],
    exercise: "pol-level",
  },
  {
    id: "diffusion-tube",
    family: "doping",
    name: "Diffusion tube",
    question: "How deep do the dopant atoms go, and where is the junction?",
    operations: ["predeposition", "drive_in", "anneal"],
    exercise: "dif-drive",
  },
  {
    id: "implanter",
    family: "doping",
    name: "Implanter",
    question: "Where do the ions stop, and how many stay in the silicon?",
    operations: ["implantation"],
    exercise: "imp-peak",
  },
  {
    id: "four-point",
    family: "doping",
    name: "Four-point",
    question: "How well does the doped layer conduct, and what do four probes read?",
    operations: ["sheet"],
    exercise: "sil-four-point",
  },
];

/**
 * The bench of that id, or the first one.
 * @param {string} id
 */
export function benchOf(id) {
  const bench = BENCHES.find((b) => b.id === id) ?? BENCHES[0];
  if (!bench) throw new Error("there is at least one bench");
  return bench;
}
