/**
 * How a flow differs from the shipped one it began with, short enough for a link: changed fields by
 * step, steps that are new, gone or elsewhere, and whatever else of the file changed.
 */

/** @typedef {import("./types.js").FlowDoc} FlowDoc */
/** @typedef {import("./types.js").StepDoc} StepDoc */
/** @typedef {import("./types.js").Json} Json */
/**
 * @typedef {{ s?: Record<string, Json>, n?: StepDoc[], g?: string[],
 *   p?: [id: string, after: string][], m?: Record<string, Json>, f?: Json }} Patch
 *   s: fields by step, null for one that is gone (of the step's object, or `note`, `purpose`,
 *   `hazards`); n: new steps; g: steps that are gone; p: steps that stand elsewhere, each with the
 *   one before it; m: changed parts of masks by level; f: other parts of the file
 */

/** @type {(a: unknown, b: unknown) => boolean} */
const same = (a, b) => JSON.stringify(a) === JSON.stringify(b);
const OWN = ["note", "purpose", "hazards"];

/**
 * @param {FlowDoc} base
 * @param {FlowDoc} doc
 * @returns {Patch | null} null: nothing differs
 */
export function difference(base, doc) {
  /** @type {Patch} */
  const patch = {};
  const known = new Map(base.steps.map((step) => [step.id, step]));
  for (const step of doc.steps) {
    const old = known.get(step.id);
    if (!old || old.step["operation"] !== step.step["operation"]) {
      patch.n = [...(patch.n ?? []), step];
      continue;
    }
    /** @type {Json} */
    const fields = {};
    for (const key of new Set([...Object.keys(old.step), ...Object.keys(step.step)])) {
      if (!same(old.step[key], step.step[key])) fields[key] = step.step[key] ?? null;
    }
    for (const key of /** @type {("note" | "purpose" | "hazards")[]} */ (OWN)) {
      if (!same(old[key], step[key])) fields[key] = step[key] ?? null;
    }
    if (Object.keys(fields).length > 0) patch.s = { ...patch.s, [step.id]: fields };
  }
  const ids = doc.steps.map(({ id }) => id);
  const gone = base.steps.map(({ id }) => id).filter((id) => !ids.includes(id));
  if (gone.length > 0) patch.g = gone;
  const placed = placements(
    base.steps.map(({ id }) => id).filter((id) => ids.includes(id)),
    ids,
  );
  if (placed.length > 0) patch.p = placed;
  const masks = maskChanges(base["layout"], doc["layout"]);
  if (masks) patch.m = masks;
  for (const key of new Set([...Object.keys(base), ...Object.keys(doc)])) {
    if (key === "steps" || same(base[key], doc[key]) || (masks && key === "layout")) continue;
    patch.f = { ...patch.f, [key]: doc[key] ?? null };
  }
  return Object.keys(patch).length === 0 ? null : patch;
}

/**
 * What changed in masks; null if nothing did, or more than that did.
 * @param {unknown} base
 * @param {unknown} layout
 * @returns {Record<string, Json> | null}
 */
function maskChanges(base, layout) {
  const [old, fresh] = [masksOf(base), masksOf(layout)];
  const levels = (/** @type {Json[]} */ masks) => masks.map(({ level }) => level);
  if (!same(levels(old), levels(fresh)) || same(old, fresh)) return null;
  if (
    !same(
      { .../** @type {Json} */ (base), masks: 0 },
      { .../** @type {Json} */ (layout), masks: 0 },
    )
  )
    return null;
  /** @type {Record<string, Json>} */
  const changes = {};
  fresh.forEach((mask, k) => {
    const before = old[k] ?? {};
    for (const key of new Set([...Object.keys(before), ...Object.keys(mask)])) {
      if (same(before[key], mask[key])) continue;
      const level = String(mask["level"]);
      changes[level] = { ...changes[level], [key]: mask[key] ?? null };
    }
  });
  return changes;
}

/**
 * @param {unknown} layout
 * @returns {Json[]}
 */
function masksOf(layout) {
  const masks = /** @type {{ masks?: unknown } | undefined} */ (layout)?.masks;
  return Array.isArray(masks) ? masks : [];
}

/**
 * The steps that have to be put elsewhere to come from one order to another, each with the step
 * that it then stands behind.
 * @param {string[]} from
 * @param {string[]} to
 * @returns {[string, string][]}
 */
function placements(from, to) {
  const order = [...from];
  /** @type {[string, string][]} */
  const placed = [];
  to.forEach((id, k) => {
    // A step that went further down is taken out here and put in where it belongs.
    if (order[k] !== id && order[k + 1] === id) order.splice(k, 1);
    if (order[k] === id) return;
    const old = order.indexOf(id, k);
    if (old >= 0) order.splice(old, 1);
    order.splice(k, 0, id);
    placed.push([id, to[k - 1] ?? ""]);
  });
  return placed;
}

/**
 * @param {FlowDoc} base
 * @param {Patch} patch
 * @returns {FlowDoc}
 */
export function patched(base, patch) {
  const steps = new Map(base.steps.map((step) => [step.id, step]));
  for (const [id, fields] of Object.entries(patch.s ?? {})) {
    const old = steps.get(id);
    if (!old) throw new Error(`there is no step ${id}`);
    /** @type {Json} */
    const own = { ...old };
    const object = { ...old.step };
    for (const [key, value] of Object.entries(fields)) {
      const target = OWN.includes(key) ? own : object;
      if (value === null) delete target[key];
      else target[key] = value;
    }
    steps.set(id, /** @type {StepDoc} */ ({ ...own, step: object }));
  }
  for (const step of patch.n ?? []) steps.set(step.id, step);
  const away = new Set([...(patch.g ?? []), ...(patch.p ?? []).map(([id]) => id)]);
  const order = base.steps.map(({ id }) => id).filter((id) => !away.has(id));
  for (const [id, after] of patch.p ?? []) order.splice(order.indexOf(after) + 1, 0, id);
  /** @type {FlowDoc} */
  const doc = { ...base };
  for (const [key, value] of Object.entries(patch.f ?? {})) {
    if (key === "steps") continue;
    if (value === null) delete doc[key];
    else doc[key] = value;
  }
  if (patch.m) doc["layout"] = withMasks(doc["layout"], patch.m);
  return {
    ...doc,
    steps: order.map((id) => {
      const step = steps.get(id);
      if (!step) throw new Error(`there is no step ${id}`);
      return step;
    }),
  };
}

/**
 * @param {unknown} layout
 * @param {Record<string, Json>} changes
 */
function withMasks(layout, changes) {
  const levels = masksOf(layout).map(({ level }) => String(level));
  const strange = Object.keys(changes).find((level) => !levels.includes(level));
  if (strange !== undefined) throw new Error(`there is no mask level ${strange}`);
  const masks = masksOf(layout).map((mask) => {
    const parts = Object.entries({
      ...mask,
      ...changes[String(mask["level"])],
    });
    return Object.fromEntries(parts.filter(([, value]) => value !== null));
  });
  return { .../** @type {Json} */ (layout), masks };
}
