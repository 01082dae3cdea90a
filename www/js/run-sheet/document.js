/** Changes of a flow file; each gives a new one and leaves the old one as it was. */

/** @typedef {import("./types.js").FlowDoc} FlowDoc */
/** @typedef {import("./types.js").StepDoc} StepDoc */
/** @typedef {import("./types.js").Json} Json */

/**
 * What a new step of each operation begins with: everything its request must have.
 * @type {Readonly<Record<string, Json>>}
 */
const NEW_STEPS = {
  clean: { recipe: "piranha_sc1_hf_sc2" },
  oxidation: { ambient: "dry", temperature_c: 1000, time_min: 60 },
  predeposition: { dopant: "phosphorus", temperature_c: 950, time_min: 30 },
  drive_in: { temperature_c: 1100, time_min: 60, ambient: "inert" },
  anneal: { temperature_c: 950, time_min: 30, ambient: "inert" },
  implantation: { dopant: "boron", energy_kev: 60, dose_cm2: 1e13 },
  spin_coating: { resist: "demo-p12", speed_rpm: 4000, primed: true },
  bake: { kind: "soft", temperature_c: 95, time_s: 60 },
  exposure: { dose_mj_cm2: 140 },
  development: { developer: "tmah_2_38", time_s: 60 },
  resist_strip: { method: "oxygen_plasma", time_min: 10 },
  wet_etch: { etchant: "bhf_5_1", material: "thermal_oxide", time_s: 300 },
  dry_etch: { chemistry: "hbr_cl2", material: "polysilicon", time_s: 90 },
  deposition: { film: "deposited_oxide", method: "lpcvd", target_nm: 300 },
  planarization: { material: "deposited_oxide", time_s: 60 },
};

/** The operations that a step can be, in the order of the trade. */
export const OPERATIONS = Object.keys(NEW_STEPS);

/** A bare wafer with one clean on it, for a flow of one's own. */
/** @returns {FlowDoc} */
export function emptyWafer() {
  return {
    format: "barewafer-flow",
    version: 1,
    flow: "my-flow",
    title: "A flow of my own",
    substrate: { type: "p", orientation: "100", resistivity_ohm_cm: 10 },
    layout: {
      unit: "um",
      extent: [0, 0, 40, 20],
      masks: [
        {
          level: "WINDOW",
          name: "window",
          polarity: "dark_field",
          rectangles: [[14, 4, 26, 16]],
        },
      ],
      labels: [{ name: "window", at: [20, 10] }],
    },
    section: { from: [0, 10], to: [40, 10] },
    settings: { lithography: "ideal" },
    steps: [{ id: "clean", step: { operation: "clean", ...NEW_STEPS["clean"] } }],
  };
}

/**
 * @param {FlowDoc} doc
 * @param {number} step
 * @param {(old: StepDoc) => StepDoc} change
 * @returns {FlowDoc}
 */
function withStep(doc, step, change) {
  return { ...doc, steps: doc.steps.map((old, k) => (k === step ? change(old) : old)) };
}

/**
 * Sets a field of a step by its path, such as `overlay_um.x` or `segments[1].time_min`; undefined
 * takes it away.
 * @param {FlowDoc} doc
 * @param {number} step
 * @param {string} path
 * @param {unknown} value
 */
export function setField(doc, step, path, value) {
  return withStep(doc, step, (old) => ({ ...old, step: put(old.step, keysOf(path), value) }));
}

/** @param {string} path */
function keysOf(path) {
  return path.replace(/\[(\d+)\]/g, ".$1").split(".");
}

/**
 * @param {Json} object
 * @param {string[]} keys
 * @param {unknown} value
 * @returns {Json}
 */
function put(object, [key = "", ...rest], value) {
  if (Array.isArray(object)) {
    const item = rest.length > 0 ? put(object[Number(key)], rest, value) : value;
    return /** @type {Json} */ (/** @type {unknown} */ (object.with(Number(key), item)));
  }
  const { [key]: old, ...others } = object;
  if (rest.length > 0) {
    const inner = typeof old === "object" && old !== null ? /** @type {Json} */ (old) : {};
    const changed = put(inner, rest, value);
    return Object.keys(changed).length === 0 ? others : { ...object, [key]: changed };
  }
  return value === undefined ? others : { ...object, [key]: value };
}

/**
 * @param {Json} object
 * @param {string} path
 * @returns {unknown}
 */
export function fieldOf(object, path) {
  /** @type {unknown} */
  let here = object;
  for (const key of keysOf(path)) {
    if (typeof here !== "object" || here === null) return undefined;
    here = /** @type {Json} */ (here)[key];
  }
  return here;
}

/**
 * @param {FlowDoc} doc
 * @param {number} step
 * @param {"note" | "purpose"} key
 * @param {string} text
 */
export function setText(doc, step, key, text) {
  return withStep(doc, step, ({ [key]: _old, ...others }) =>
    text === "" ? others : { ...others, [key]: text },
  );
}

/**
 * @param {FlowDoc} doc
 * @param {string} wanted
 */
function freeId(doc, wanted) {
  const taken = new Set(doc.steps.map(({ id }) => id));
  if (!taken.has(wanted)) return wanted;
  for (let k = 2; ; k += 1) if (!taken.has(`${wanted}-${k}`)) return `${wanted}-${k}`;
}

/**
 * Puts a new step of an operation after the one at `step`.
 * @param {FlowDoc} doc
 * @param {number} step -1: at the very beginning
 * @param {string} operation
 */
export function insert(doc, step, operation) {
  const start = NEW_STEPS[operation];
  if (!start) return doc;
  const [mask] = levelsOf(doc);
  const level = operation === "exposure" && mask ? { mask_level: mask } : {};
  const id = freeId(doc, operation.replaceAll("_", "-"));
  const fresh = { id, step: { operation, ...level, ...start } };
  return { ...doc, steps: doc.steps.toSpliced(step + 1, 0, fresh) };
}

/**
 * @param {FlowDoc} doc
 * @param {number} step
 */
export function duplicate(doc, step) {
  const old = doc.steps[step];
  if (!old) return doc;
  const copy = { ...structuredClone(old), id: freeId(doc, old.id) };
  return { ...doc, steps: doc.steps.toSpliced(step + 1, 0, copy) };
}

/**
 * @param {FlowDoc} doc
 * @param {number} step
 */
export function remove(doc, step) {
  return doc.steps.length < 2 ? doc : { ...doc, steps: doc.steps.toSpliced(step, 1) };
}

/**
 * @param {FlowDoc} doc
 * @param {number} from
 * @param {number} to
 */
export function move(doc, from, to) {
  const moved = doc.steps[from];
  if (!moved || to < 0 || to >= doc.steps.length) return doc;
  return { ...doc, steps: doc.steps.toSpliced(from, 1).toSpliced(to, 0, moved) };
}

/**
 * The levels of the layout that an exposure can print.
 * @param {FlowDoc} doc
 * @returns {string[]}
 */
export function levelsOf(doc) {
  const layout = /** @type {{ masks?: { level?: unknown }[] } | undefined} */ (doc["layout"]);
  return (layout?.masks ?? []).map((mask) => String(mask.level ?? ""));
}
