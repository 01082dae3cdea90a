/** The benches, in the order of the strip. */

/** @type {readonly import("./types.js").Bench[]} */
export const BENCHES = [
  {
    id: "furnace",
    name: "Furnace",
    question: "How thick does the oxide grow, and how much silicon does it use up?",
    operations: ["oxidation"],
    exercise: "ox-wet-field",
  },
  {
    id: "spinner",
    name: "Spinner",
    question: "How thick a film of resist does a spinning wafer keep?",
    operations: ["spin_coating"],
    exercise: "spin-speed",
  },
  {
    id: "wet-bench",
    name: "Wet bench",
    question: "When is the film gone, and how far has the acid gone sideways?",
    operations: ["wet_etch"],
    exercise: "etch-bias",
  },
  {
    id: "diffusion-tube",
    name: "Diffusion tube",
    question: "How deep do the dopant atoms go, and where is the junction?",
    operations: ["predeposition", "drive_in"],
    exercise: "dif-drive",
  },
  {
    id: "implanter",
    name: "Implanter",
    question: "Where do the ions stop, and how many stay in the silicon?",
    operations: ["implantation"],
    exercise: "imp-peak",
  },
  {
    id: "four-point",
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
