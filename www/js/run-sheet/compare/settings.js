/** The settings in which two flows differ, in words. */

import { plain, spoken } from "../../format.js";
import { valueWords, nameAndUnit } from "../words.js";
import { onlyInA, twinsOf } from "./twins.js";

/** @typedef {import("../types.js").FlowDoc} FlowDoc */
/** @typedef {import("../../types.js").OperationSchema} OperationSchema */
/**
 * @typedef {{ step: number, place: string, setting: string, a: string, b: string }} Changed
 *   step: in B, from 0; -1 for what is of the whole flow or only in A
 */

const ABSENT = "not given";

/**
 * @param {readonly OperationSchema[]} schema
 * @param {FlowDoc} a
 * @param {FlowDoc} b
 * @returns {Changed[]}
 */
export function settingsThatDiffer(schema, a, b) {
  /** @type {Changed[]} */
  const rows = [];
  for (const part of ["substrate", "settings"]) {
    const place = part === "substrate" ? "the wafer" : "models of all steps";
    for (const [path, one, other] of differing(a[part], b[part])) {
      const [name, unit] = nameAndUnit(path);
      rows.push({
        step: -1,
        place,
        setting: name,
        a: words(one, unit),
        b: words(other, unit),
      });
    }
  }
  for (const [part, setting] of [
    ["layout", "masks"],
    ["section", "section line"],
  ]) {
    if (JSON.stringify(a[part ?? ""]) === JSON.stringify(b[part ?? ""])) continue;
    rows.push({
      step: -1,
      place: "the layout",
      setting: setting ?? "",
      a: "–",
      b: "differ",
    });
  }
  const twins = twinsOf(a, b);
  b.steps.forEach(({ id, step }, k) => {
    const twin = twins[k];
    const operation = String(step["operation"]);
    const old = twin && twin.how !== "before" ? a.steps[twin.step] : undefined;
    const place = `${k + 1} ${id}`;
    if (!old) {
      rows.push({
        step: k,
        place,
        setting: spoken(operation),
        a: "no such step",
        b: "a step",
      });
      return;
    }
    const form = schema.find((one) => one.operation === operation);
    for (const [path, one, other] of differing(old.step, step)) {
      const open = path.replace(/\[\d+\]/g, "[]");
      const number = form?.numbers.find(({ field }) => field === open);
      const choice = form?.choices.find(({ field }) => field === open);
      const [name, ownUnit] = nameAndUnit(path);
      const index = /\[(\d+)\]/.exec(path);
      const label = (number ?? choice)?.label ?? name;
      const setting = index ? `${label}, part ${Number(index[1]) + 1}` : label;
      const unit = number?.unit ?? ownUnit;
      const said = (/** @type {unknown} */ value) =>
        choice?.values.find(([word]) => word === String(value))?.[1] ?? words(value, unit);
      rows.push({ step: k, place, setting, a: said(one), b: said(other) });
    }
  });
  for (const k of onlyInA(a, b)) {
    const gone = a.steps[k];
    const setting = spoken(String(gone?.step["operation"] ?? ""));
    rows.push({
      step: -1,
      place: `A: ${k + 1} ${gone?.id}`,
      setting,
      a: "a step",
      b: "no such step",
    });
  }
  return rows;
}

/**
 * @param {unknown} value
 * @param {string} unit
 */
function words(value, unit) {
  if (value === undefined) return ABSENT;
  // To the last digit: a setting is not measured.
  if (typeof value === "number") return unit === "" ? plain(value) : `${plain(value)}\u00a0${unit}`;
  return valueWords(value, unit) || "–";
}

/**
 * The paths at which two objects have other values.
 * @param {unknown} a
 * @param {unknown} b
 * @returns {[path: string, a: unknown, b: unknown][]}
 */
function differing(a, b) {
  const [one, other] = [flat(a), flat(b)];
  return [...new Set([...one.keys(), ...other.keys()])]
    .filter((path) => one.get(path) !== other.get(path))
    .map((path) => [path, one.get(path), other.get(path)]);
}

/**
 * @param {unknown} value
 * @returns {Map<string, unknown>}
 */
function flat(value) {
  /** @type {Map<string, unknown>} */
  const found = new Map();
  /**
   * @param {unknown} part
   * @param {string} path
   */
  const walk = (part, path) => {
    if (Array.isArray(part)) part.forEach((item, k) => walk(item, `${path}[${k}]`));
    else if (typeof part === "object" && part !== null) {
      for (const [key, item] of Object.entries(part)) walk(item, path ? `${path}.${key}` : key);
    } else if (path !== "") found.set(path, part);
  };
  walk(value, "");
  return found;
}
