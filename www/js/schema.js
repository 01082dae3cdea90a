/** Finds the range or word list of a form's field in the kernel's schema. */

/** @typedef {import("./types.js").NumberField} NumberField */
/** @typedef {import("./types.js").ChoiceField} ChoiceField */
/** @typedef {{ path: string, number: NumberField | null, choice: ChoiceField | null }} Field */

/**
 * The operation that knows the fields of a start that is not named after one.
 * @type {Readonly<Record<string, string>>}
 */
const STARTS = { dose: "predeposition", driven: "predeposition", implanted: "implantation" };

/**
 * Describes a field of an operation. A nested field is looked for under its full path, then in the
 * operation that a start request names, then under its last name; null if nobody knows it.
 * @param {readonly import("./types.js").OperationSchema[]} schema
 * @param {string} operation
 * @param {string} path
 * @param {import("./types.js").Settings} settings
 * @returns {Field | null}
 */
export function describe(schema, operation, path, settings) {
  const inside = path.startsWith("start.") ? path.replace(/^(start\.)+/, "") : "";
  const exposed = path.startsWith("exposure.") ? path.slice("exposure.".length) : "";
  const last = path.slice(path.lastIndexOf(".") + 1);
  const anyItem = general(path);
  const word = String(settings["start"] ?? "");
  const startOf = STARTS[word] ?? word;
  /** @type {[string, string][]} */
  const places = [
    [operation, path],
    [operation, anyItem],
  ];
  if (exposed !== "") places.push(["exposure", exposed], ["exposure", general(exposed)]);
  if (inside !== "") {
    places.push([startOf, inside], ["implantation", inside], ["predeposition", inside]);
  }
  places.push([operation, last]);
  for (const other of schema) places.push([other.operation, last]);
  for (const [name, field] of places) {
    const found = lookUp(schema, name, field);
    if (found) return { ...found, path };
  }
  return null;
}

/**
 * The path with the places of lists left open, as a schema has it.
 * @param {string} path
 */
function general(path) {
  return path.replace(/\[\d+\]/, "[]");
}

/**
 * @param {readonly import("./types.js").OperationSchema[]} schema
 * @param {string} operation
 * @param {string} field
 */
function lookUp(schema, operation, field) {
  const form = schema.find((s) => s.operation === operation);
  if (!form) return null;
  const number = form.numbers.find((n) => n.field === field) ?? null;
  const choice = form.choices.find((c) => c.field === field) ?? null;
  return number || choice ? { number, choice } : null;
}
