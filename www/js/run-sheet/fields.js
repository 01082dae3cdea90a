/** Which fields a step's form shows: those that are given first, the others folded. */

import { fieldOf, levelsOf } from "./document.js";

/** @typedef {import("../types.js").OperationSchema} OperationSchema */
/** @typedef {import("../types.js").NumberField} NumberField */
/** @typedef {import("../types.js").ChoiceField} ChoiceField */
/**
 * @typedef {{ path: string, number: NumberField | null, choice: ChoiceField | null,
 *   given: boolean, value: import("../types.js").Value | null }} StepField
 */

/**
 * Fields of which a step has one: giving it takes the others away.
 * @type {Readonly<Record<string, readonly string[]>>}
 */
const ALTERNATIVES = {
  oxidation: ["time_min", "target_oxide_nm"],
  deposition: ["time_min", "target_nm"],
  wet_etch: ["time_s", "over_etch_percent"],
  dry_etch: ["time_s", "over_etch_percent"],
  planarization: ["time_s", "target_nm"],
  bake: ["time_s", "target_solvent_percent"],
};

/** The fields of the objects inside a step that stand or fall together. */
export const WHOLE = ["ramp", "spread", "step", "stop", "resist_parameters", "rate_parameters"];

/** Fields that must be given: they cannot be taken away. */
const NEEDED = [
  "ambient",
  "recipe",
  "dopant",
  "film",
  "method",
  "etchant",
  "chemistry",
  "material",
  "resist",
  "speed_rpm",
  "energy_kev",
  "mask_level",
  "temperature_c",
];

/**
 * The fields of a step, given ones first in the order of the form.
 * @param {readonly OperationSchema[]} schema
 * @param {import("./types.js").FlowDoc} doc
 * @param {number} step
 * @returns {StepField[]}
 */
export function fieldsOf(schema, doc, step) {
  const object = doc.steps[step]?.step ?? {};
  const operation = String(object["operation"] ?? "");
  const form = schema.find((one) => one.operation === operation);
  if (!form) return [];
  /** @type {StepField[]} */
  const fields = [];
  if (operation === "exposure") {
    const values = levelsOf(doc).map((level) => /** @type {[string, string]} */ ([level, level]));
    const choice = { field: "mask_level", label: "Mask level", values, default: null };
    fields.push(field(object, "mask_level", null, choice));
  }
  for (const choice of form.choices) fields.push(field(object, choice.field, null, choice));
  for (const number of form.numbers) fields.push(field(object, number.field, number, null));
  const recipe = operation === "oxidation" && object["segments"] !== undefined;
  const away = recipe ? rivalsOf(operation, "segments") : [];
  return fields.filter(
    ({ path, given }) =>
      !path.includes("[]") && (given || !(away.includes(path) || isPartOfAbsent(object, path))),
  );
}

/**
 * @param {import("./types.js").Json} object
 * @param {string} path
 * @param {NumberField | null} number
 * @param {ChoiceField | null} choice
 * @returns {StepField}
 */
function field(object, path, number, choice) {
  const value = fieldOf(object, path);
  const given = value !== undefined;
  const shown = typeof value === "boolean" ? String(value) : value;
  const known = typeof shown === "number" || typeof shown === "string" ? shown : null;
  return { path, number, choice, given, value: known };
}

/**
 * Fields of an object that needs all of its parts are offered only where it is given.
 * @param {import("./types.js").Json} object
 * @param {string} path
 */
function isPartOfAbsent(object, path) {
  const [root = ""] = path.split(".");
  return path.includes(".") && WHOLE.includes(root) && object[root] === undefined;
}

/**
 * The value as the file has it: yes and no are words on the form.
 * @param {StepField | undefined} known
 * @param {unknown} value
 */
export function valueOf(known, value) {
  const words = known?.choice?.values.map(([word]) => word) ?? [];
  return words.join() === "false,true" ? value === "true" : value;
}

/**
 * What giving a field takes away.
 * @param {string} operation
 * @param {string} path
 */
export function rivalsOf(operation, path) {
  // A recipe in segments has gas, temperature and time in each of them.
  const recipe = ["ambient", "temperature_c", "time_min", "target_oxide_nm"];
  if (operation === "oxidation" && path === "segments") return recipe;
  const all = ALTERNATIVES[operation] ?? [];
  return all.includes(path) ? all.filter((other) => other !== path) : [];
}

/**
 * Whether a given field may be left out, so that its default or the flow's setting holds.
 * @param {string} operation
 * @param {StepField} known
 */
export function isOptional(operation, { path, number, choice }) {
  if (WHOLE.includes(path.split(".")[0] ?? "")) return false;
  if (NEEDED.includes(path)) return (number ?? choice)?.default != null;
  return !(ALTERNATIVES[operation] ?? []).includes(path) && path !== "time_min";
}
