/**
 * Asks the kernel for published values, in the worker or, where there is none, on the page. Knows
 * nothing of the document.
 */

import { readAddress, writeAddress } from "../address.js";
import { buildRequest, readRequest } from "../request.js";
import { describe } from "../schema.js";

/** @typedef {import("./types.js").Check} Check */
/** @typedef {import("./types.js").Outcome} Outcome */
/** @typedef {typeof import("../../pkg/glue.js")} Glue */

/** A value read back from a link may differ by the rounding of its twelve digits. */
const SAME = 1e-9;

/** @type {Map<string, Promise<{ glue: Glue, schema: import("../types.js").OperationSchema[] }>>} */
const parts = new Map();

/** @param {string} family */
async function load(family) {
  /** @type {Glue} */
  const glue = await import(`../../pkg/${family}.js`);
  await glue.default({ module_or_path: new URL(`../../pkg/${family}_bg.wasm`, import.meta.url) });
  return { glue, schema: glue.schema() };
}

/**
 * Loads a part of the kernel once; after a failure the next call tries again.
 * @param {string} family
 */
function part(family) {
  const known = parts.get(family) ?? load(family);
  parts.set(family, known);
  known.catch(() => parts.delete(family));
  return known;
}

/**
 * Asks for all values of one part of the kernel and hands them on a few at a time.
 * @param {string} family
 * @param {readonly Check[]} checks
 * @param {(outcomes: Outcome[]) => Promise<void>} give
 */
export async function ask(family, checks, give) {
  const { glue, schema } = await part(family);
  /** @type {Outcome[]} */
  let some = [];
  for (const check of checks) {
    const outcome = outcomeOf(glue, check);
    some.push({ ...outcome, link: linkTo(glue, schema, check, outcome) });
    if (some.length < 12) continue;
    await give(some);
    some = [];
  }
  await give(some);
}

/**
 * @param {Glue} glue
 * @param {Check} check
 * @returns {Outcome}
 */
function outcomeOf(glue, check) {
  return JSON.parse(glue.checkText(JSON.stringify(check)));
}

/**
 * The address of the bench with the request of a check: empty if the bench, opened by it, would not
 * show the same value, because its form has no such field.
 * @param {Glue} glue
 * @param {readonly import("../types.js").OperationSchema[]} schema
 * @param {Check} check
 * @param {Outcome} outcome
 */
function linkTo(glue, schema, check, outcome) {
  if (outcome.verdict === "error") return "";
  const { operation, settings } = readRequest(check.request);
  const address = writeAddress({ bench: check.bench, operation, settings, exercise: null });
  const place = readAddress(address, schema);
  if (place.notices.length > 0) return "";
  const known = (/** @type {string} */ path) =>
    describe(schema, operation, path, place.settings) !== null;
  const request = buildRequest(operation, place.settings, known);
  const there = outcomeOf(glue, { ...check, request });
  const [here, again] = [outcome.ours, there.ours];
  const same =
    typeof here === "number" && typeof again === "number"
      ? Math.abs(again - here) <= SAME * Math.abs(here)
      : here === again;
  return same ? address : "";
}
