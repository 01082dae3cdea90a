/**
 * Fields of a step that are lists (the segments of a furnace recipe) or objects that stand or fall
 * together (the ramps of a furnace): what the form shows of them, and how they change.
 */

import { FORMS } from "../forms.js";
import { spoken } from "../format.js";
import { fieldOf, setField } from "./document.js";
import { WHOLE, rivalsOf } from "./fields.js";

/** @typedef {import("../types.js").OperationSchema} OperationSchema */
/** @typedef {import("../types.js").Json} Json */
/** @typedef {import("./types.js").FlowDoc} FlowDoc */
/** @typedef {import("./fields.js").StepField} StepField */
/**
 * @typedef {{ path: string, label: string, item: string, optional: string[],
 *   alone: boolean, rows: StepField[][] }} ListField a list; alone: it stands for the whole recipe
 * @typedef {{ path: string, label: string, given: boolean }} PartField
 * @typedef {"start" | "add" | "remove" | "up" | "down" | "end"} Act
 */

/** @type {Readonly<Record<string, { label: string, item: string, optional: string[] }>>} */
const LISTS = {
  segments: {
    label: "Recipe in segments",
    item: "Segment",
    optional: ["end_temperature_c"],
  },
  "alignment.random_um": { label: "Random overlay errors", item: "Error", optional: [] },
};

/** @type {Readonly<Record<string, string>>} */
const PARTS = {
  ramp: "Ramps before and after",
  spread: "Slow spread before the spin",
  step: "Step below the resist",
  stop: "Layer below",
  resist_parameters: "Resist in light",
  rate_parameters: "How fast the resist dissolves",
};

/**
 * @param {readonly OperationSchema[]} schema
 * @param {FlowDoc} doc
 * @param {number} step
 */
function formOf(schema, doc, step) {
  const object = doc.steps[step]?.step ?? {};
  const operation = String(object["operation"] ?? "");
  const form = schema.find((one) => one.operation === operation);
  return { object, operation, form, fields: [...(form?.choices ?? []), ...(form?.numbers ?? [])] };
}

/**
 * The lists that a step has or can have.
 * @param {readonly OperationSchema[]} schema
 * @param {FlowDoc} doc
 * @param {number} step
 * @returns {ListField[]}
 */
export function listsOf(schema, doc, step) {
  const { object, operation, form, fields } = formOf(schema, doc, step);
  const roots = new Set(
    fields.filter(({ field }) => field.includes("[]")).map(({ field }) => rootOf(field)),
  );
  return [...roots].map((path) => {
    const own = LISTS[path] ?? { label: spoken(path), item: "Part", optional: [] };
    const given = fieldOf(object, path);
    const items = Array.isArray(given) ? given : [];
    const inside = fields.filter(({ field }) => field.startsWith(`${path}[]`));
    const rows = items.map((_, k) =>
      inside.map(({ field }) => {
        const at = field.replace("[]", `[${k}]`);
        const value = fieldOf(object, at);
        const known = typeof value === "number" || typeof value === "string" ? value : null;
        return {
          path: at,
          number: form?.numbers.find((one) => one.field === field) ?? null,
          choice: form?.choices.find((one) => one.field === field) ?? null,
          given: value !== undefined,
          value: known,
        };
      }),
    );
    return { path, ...own, alone: rivalsOf(operation, path).length > 0, rows };
  });
}

/** @param {string} field */
const rootOf = (field) => field.slice(0, field.indexOf("[]"));

/**
 * The objects inside a step that are given or left out as a whole.
 * @param {readonly OperationSchema[]} schema
 * @param {FlowDoc} doc
 * @param {number} step
 * @returns {PartField[]}
 */
export function partsOf(schema, doc, step) {
  const { object, fields } = formOf(schema, doc, step);
  return WHOLE.filter((root) => fields.some(({ field }) => field.startsWith(`${root}.`))).map(
    (path) => ({
      path,
      label: PARTS[path] ?? spoken(path),
      given: object[path] !== undefined,
    }),
  );
}

/**
 * A list with a row more, less or elsewhere; `start` begins one in place of the fields that it
 * replaces, `end` puts those back.
 * @param {readonly OperationSchema[]} schema
 * @param {FlowDoc} doc
 * @param {number} step
 * @param {{ path: string, act: Act, at: number }} change
 * @returns {FlowDoc}
 */
export function changedList(schema, doc, step, { path, act, at }) {
  const { object, operation } = formOf(schema, doc, step);
  const list = listsOf(schema, doc, step).find((one) => one.path === path);
  if (!list) return doc;
  const given = fieldOf(object, path);
  const items = Array.isArray(given) ? given : [];
  if (act === "end") {
    let after = setField(doc, step, path, undefined);
    // Nothing oxidizes in an inert gas: a recipe of one part is not its loading.
    const main = items.find((item) => item?.ambient !== "inert");
    const instead = rivalsOf(operation, path).filter((rival) => main?.[rival] !== undefined);
    for (const rival of instead) after = setField(after, step, rival, main[rival]);
    return after;
  }
  if (act === "start" || act === "add") {
    const last = items.at(-1);
    const fresh =
      typeof last === "object" && last !== null
        ? withoutOptional(last, list.optional)
        : (last ?? blank(schema, object, operation, list));
    let after = setField(doc, step, path, [...items, fresh]);
    for (const rival of rivalsOf(operation, path)) after = setField(after, step, rival, undefined);
    return after;
  }
  if (act === "remove") {
    if (items.length < 2) {
      return list.alone ? doc : setField(doc, step, path, undefined);
    }
    return setField(doc, step, path, items.toSpliced(at, 1));
  }
  const to = act === "up" ? at - 1 : at + 1;
  if (to < 0 || to >= items.length) return doc;
  return setField(doc, step, path, items.toSpliced(at, 1).toSpliced(to, 0, items[at]));
}

/**
 * @param {Json} item
 * @param {string[]} optional
 */
function withoutOptional(item, optional) {
  return Object.fromEntries(Object.entries(item).filter(([key]) => !optional.includes(key)));
}

/**
 * The first item of a list: what the step has so far, else what a first visit of its bench has.
 * @param {readonly OperationSchema[]} schema
 * @param {Json} object
 * @param {string} operation
 * @param {ListField} list
 */
function blank(schema, object, operation, { path, optional }) {
  const form = schema.find((one) => one.operation === operation);
  const start = FORMS[operation]?.start ?? {};
  const prefix = `${path}[]`;
  /** @type {Json} */
  const item = {};
  for (const number of form?.numbers ?? []) {
    if (number.field === prefix) return number.default ?? number.min;
    const name = number.field.slice(prefix.length + 1);
    if (!number.field.startsWith(`${prefix}.`) || optional.includes(name)) continue;
    item[name] = object[name] ?? number.default ?? start[name] ?? number.min;
  }
  for (const choice of form?.choices ?? []) {
    if (!choice.field.startsWith(`${prefix}.`)) continue;
    const name = choice.field.slice(prefix.length + 1);
    item[name] = object[name] ?? choice.default ?? start[name] ?? choice.values[0]?.[0];
  }
  return item;
}

/**
 * Gives an object inside a step, with the values of a first visit of its bench.
 * @param {readonly OperationSchema[]} schema
 * @param {FlowDoc} doc
 * @param {number} step
 * @param {string} root
 * @returns {FlowDoc}
 */
export function addedPart(schema, doc, step, root) {
  const { object, operation, form } = formOf(schema, doc, step);
  const start = FORMS[operation]?.start ?? {};
  let after = doc;
  for (const number of form?.numbers ?? []) {
    if (!number.field.startsWith(`${root}.`)) continue;
    const value = start[number.field] ?? number.default ?? number.min;
    after = setField(after, step, number.field, notHotter(number.field, value, object));
  }
  for (const choice of form?.choices ?? []) {
    if (!choice.field.startsWith(`${root}.`)) continue;
    const value = start[choice.field] ?? choice.default ?? choice.values[0]?.[0];
    after = setField(after, step, choice.field, value);
  }
  return after;
}

/**
 * A ramp begins colder than the step: what a hot one begins with does not suit a cool one.
 * @param {string} path
 * @param {import("../types.js").Value} value
 * @param {Json} object
 */
function notHotter(path, value, { temperature_c: most }) {
  const cooler = path === "ramp.start_c" && typeof most === "number" && Number(value) >= most;
  return cooler ? Math.max(20, Math.round(most / 2)) : value;
}
