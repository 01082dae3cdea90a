/** Which step of one flow answers to which of another one. */

/** @typedef {import("../types.js").FlowDoc} FlowDoc */
/** @typedef {import("../types.js").StepDoc} StepDoc */
/**
 * @typedef {{ step: number, how: "id" | "place" | "before" }} Twin
 *   step: in A, from 0; -1 for none. `before`: A has no such step, this is the last one that both
 *   have done by then.
 */

/** @param {StepDoc | undefined} step */
const operationOf = (step) => String(step?.step["operation"] ?? "");

/**
 * For each step of B its twin in A: the one of the same id and operation, else, between two such
 * pairs, the next one of the same operation that is nobody's twin yet.
 * @param {FlowDoc} a
 * @param {FlowDoc} b
 * @returns {Twin[]}
 */
export function twinsOf(a, b) {
  const byId = new Map(a.steps.map((step, k) => [step.id, k]));
  /** @type {(number | undefined)[]} */
  const found = b.steps.map((step) => {
    const k = byId.get(step.id);
    return k !== undefined && operationOf(a.steps[k]) === operationOf(step) ? k : undefined;
  });
  const taken = new Set(found);
  let last = -1;
  return b.steps.map((step, k) => {
    const twin = found[k];
    if (twin !== undefined) {
      last = twin;
      return { step: twin, how: "id" };
    }
    const next = found.slice(k + 1).find((other) => other !== undefined && other > last);
    const end = next ?? a.steps.length;
    for (let other = last + 1; other < end; other += 1) {
      if (taken.has(other) || operationOf(a.steps[other]) !== operationOf(step)) continue;
      taken.add(other);
      last = other;
      return { step: other, how: "place" };
    }
    return { step: last, how: "before" };
  });
}

/** @type {{ a: FlowDoc, b: FlowDoc, twins: Twin[] } | null} */
let lastAsked = null;

/**
 * The twin of a step of B; the answer for a pair of flows is kept.
 * @param {FlowDoc} a
 * @param {FlowDoc} b
 * @param {number} step
 * @returns {Twin}
 */
export function twinOf(a, b, step) {
  if (lastAsked?.a !== a || lastAsked.b !== b) lastAsked = { a, b, twins: twinsOf(a, b) };
  return lastAsked.twins[step] ?? { step: -1, how: "before" };
}

/**
 * The steps of A that no step of B answers to, from 0.
 * @param {FlowDoc} a
 * @param {FlowDoc} b
 */
export function onlyInA(a, b) {
  const answered = new Set(
    twinsOf(a, b)
      .filter(({ how }) => how !== "before")
      .map(({ step }) => step),
  );
  return a.steps.map((_, k) => k).filter((k) => !answered.has(k));
}
