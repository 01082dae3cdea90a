/**
 * The whole state in the fragment of the address: `#v=1&bench=furnace&temperature_c=950`. What has
 * the value of a first visit is left out. A link is a stranger's text: it is cut, read strictly,
 * and every value that is refused is named.
 */

import { BENCHES, benchOf } from "./benches.js";
import { formOf } from "./forms.js";
import { plain, parseNumber, editable } from "./format.js";
import { modesOf } from "./request.js";
import { describe } from "./schema.js";

/** Links longer than this break in mail and chat programs. */
const LONGEST = 2000;

/**
 * @typedef {{ bench: string, operation: string,
 *   settings: import("./types.js").Settings, exercise: string, set: number,
 *   notices: string[] }} Place
 */

/**
 * Writes the fragment.
 * @param {{ bench: string, operation: string, settings: import("./types.js").Settings,
 *   exercise: { id: string, set: number } | null }} place
 */
export function writeAddress(place) {
  const query = new URLSearchParams({ v: "1", bench: place.bench });
  if (benchOf(place.bench).operations.length > 1) query.set("operation", place.operation);
  if (place.exercise) {
    query.set("exercise", place.exercise.id);
    if (place.exercise.set !== 0) query.set("set", String(place.exercise.set));
  }
  const { start, texts } = formOf(place.operation);
  for (const [key, value] of Object.entries(place.settings)) {
    // A pasted table is longer than a link may be.
    if (start[key] === value || texts?.[key]) continue;
    query.set(key, typeof value === "number" ? editable(value) : value);
  }
  return `#${query.toString()}`;
}

/**
 * The bench that a fragment leads to: what has to be known before the rest can be read.
 * @param {string} fragment
 */
export function benchIn(fragment) {
  return benchOf(queryOf(fragment, []).get("bench") ?? "");
}

/**
 * The fields of a fragment; none if it is too long or of another version.
 * @param {string} fragment
 * @param {string[]} notices
 */
function queryOf(fragment, notices) {
  let text = fragment.replace(/^#/, "");
  if (text.length > LONGEST) {
    notices.push(`The link is longer than ${LONGEST} characters and was not read.`);
    text = "";
  }
  const query = new URLSearchParams(text);
  const version = query.get("v");
  if (text === "" || version === "1") return query;
  notices.push(`The link's version ${shown(version ?? "(none)")} is not 1; it was not read.`);
  return new URLSearchParams();
}

/**
 * Reads a fragment.
 * @param {string} fragment
 * @param {readonly import("./types.js").OperationSchema[]} schema of the family of its bench
 * @returns {Place}
 */
export function readAddress(fragment, schema) {
  /** @type {string[]} */
  const notices = [];
  const query = queryOf(fragment, notices);
  const wanted = query.get("bench") ?? "";
  if (wanted !== "" && !BENCHES.some((b) => b.id === wanted)) {
    const names = BENCHES.map((b) => b.id).join(", ");
    notices.push(`bench: ${shown(wanted)} was refused; allowed: ${names}.`);
  }
  const bench = benchOf(wanted);
  const [first = ""] = bench.operations;
  let operation = query.get("operation") ?? first;
  if (!bench.operations.includes(operation)) {
    const names = bench.operations.join(", ");
    notices.push(`operation: ${shown(operation)} was refused; allowed here: ${names}.`);
    operation = first;
  }
  const asked = query.get("exercise") ?? "";
  if (asked !== "" && asked !== bench.exercise) {
    notices.push(`exercise: ${shown(asked)} was refused; this bench has ${bench.exercise}.`);
  }
  const setText = query.get("set") ?? "0";
  const set = /^\d{1,4}$/.test(setText) ? Number(setText) : -1;
  if (set < 0) notices.push(`set: ${shown(setText)} was refused; allowed: 0 to 9999.`);
  for (const key of ["v", "bench", "operation", "exercise", "set"]) query.delete(key);

  /** @type {Record<string, import("./types.js").Value>} */
  const settings = { ...formOf(operation).start };
  // A mode decides which schema describes the fields inside it, so modes are read first.
  const modes = modesOf(operation);
  for (const mode of modes) {
    const word = query.get(mode.mode);
    query.delete(mode.mode);
    if (word === null) continue;
    if (mode.options.some((o) => o.word === word)) settings[mode.mode] = word;
    else refuse(notices, mode.mode, word, mode.options.map((o) => o.word).join(", "));
  }
  for (const [key, given] of query) {
    const field = isField(operation, key) ? describe(schema, operation, key, settings) : null;
    if (field?.number) {
      const { min, max, unit } = field.number;
      const value = parseNumber(given);
      if (value !== null && value >= min && value <= max) settings[key] = value;
      else refuse(notices, key, given, `${plain(min)} to ${plain(max)} ${unit}`.trim());
    } else if (field?.choice) {
      const words = field.choice.values.map(([word]) => word);
      if (words.includes(given)) settings[key] = given;
      else refuse(notices, key, given, words.join(", "));
    } else {
      notices.push(`${shown(key)}: this bench has no such field; it was left out.`);
    }
  }
  const exercise = asked === bench.exercise ? asked : "";
  return { bench: bench.id, operation, settings, exercise, set: Math.max(set, 0), notices };
}

/**
 * Whether a form has this field in any of its modes.
 * @param {string} operation
 * @param {string} path
 */
function isField(operation, path) {
  return formOf(operation).groups.some((group) =>
    group.items.some((item) =>
      typeof item === "string"
        ? item === path
        : "mode" in item
          ? item.options.some((option) => option.fields.includes(path))
          : item.fields.includes(path),
    ),
  );
}

/**
 * @param {string[]} notices
 * @param {string} key
 * @param {string} given
 * @param {string} allowed
 */
function refuse(notices, key, given, allowed) {
  notices.push(`${key}: ${shown(given)} was refused; allowed: ${allowed}.`);
}

/**
 * A stranger's text, short and on one line.
 * @param {string} text
 */
function shown(text) {
  const clean = text.replace(/[\p{C}\s]+/gu, " ").trim();
  return clean.length > 40 ? `${clean.slice(0, 39)}…` : clean === "" ? "(empty)" : clean;
}
