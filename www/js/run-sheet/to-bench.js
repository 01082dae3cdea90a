/**
 * Where a step's bench opens: with the settings of the step, and with what the bench asks of the
 * wafer, as that is before the step under the plumb line.
 */

import { writeAddress } from "../address.js";
import { BENCHES } from "../benches.js";
import { quantity } from "../format.js";
import { readRequest } from "../request.js";

/** @typedef {import("../types.js").Json} Json */
/** @typedef {import("./types.js").Place} Place */
/** @typedef {import("./types.js").FlowDoc} FlowDoc */
/** @typedef {{ material: string, thickness_nm: number }} Film */

/** Fields that only a flow has: a bench knows no masks and no wafer. */
const FLOW_FIELDS = ["primed", "mask_level", "image", "overlay_um", "target", "segments"];

/** Films that count as oxide on the silicon. */
const OXIDES = ["thermal_oxide", "deposited_oxide"];

/** Most films that the forms of the benches have room for. */
const MOST_FILMS = 2;

/** @param {number} value */
const short = (value) => Number(value.toPrecision(4));

/**
 * @param {FlowDoc} doc
 * @param {number} step
 * @param {Place | null} before the wafer before the step; null for the bare one
 * @returns {{ address: string, carries: string }} empty for a step without a bench
 */
export function benchLink(doc, step, before) {
  const object = doc.steps[step]?.step ?? {};
  const operation = String(object["operation"] ?? "");
  const bench = BENCHES.find(({ operations }) => operations.includes(operation));
  if (!bench) return { address: "", carries: "" };
  const wafer = before ? ofWafer(doc, step, operation, object, before) : {};
  const main = mainSegment(object["segments"]);
  // What the step says itself comes last.
  const request = merged(wafer, { ...main, ...ownFields(object), operation });
  const { settings } = readRequest(request);
  const place = { bench: bench.id, operation, settings, exercise: null };
  /** @type {string[]} */
  const words = [];
  if (before && Object.keys(wafer).length > 0) {
    words.push(`with the wafer of the step before at x = ${quantity(before.x_um, "µm", 4)}`);
  }
  if (main) words.push("with the longest segment of the recipe");
  return { address: `./${writeAddress(place)}`, carries: words.join(", ") };
}

/** @param {Json} object */
function ownFields(object) {
  return Object.fromEntries(Object.entries(object).filter(([key]) => !FLOW_FIELDS.includes(key)));
}

/**
 * The segment of a recipe in which most of the oxide grows: the longest that is not inert. A bench
 * runs one.
 * @param {unknown} segments
 * @returns {Json | null}
 */
function mainSegment(segments) {
  if (!Array.isArray(segments)) return null;
  const hot = segments.filter((segment) => segment?.ambient !== "inert");
  const [main] = hot.sort((a, b) => Number(b.time_min) - Number(a.time_min));
  if (!main) return null;
  const { end_temperature_c: _end, ...others } = main;
  return others;
}

/**
 * One object with the fields of both, the second one's first.
 * @param {Json} one
 * @param {Json} other
 * @returns {Json}
 */
function merged(one, other) {
  const result = { ...one };
  for (const [key, value] of Object.entries(other)) {
    const old = result[key];
    const both = isObject(old) && isObject(value);
    result[key] = both ? merged(old, value) : value;
  }
  return result;
}

/**
 * @param {unknown} value
 * @returns {value is Json}
 */
function isObject(value) {
  return typeof value === "object" && value !== null && !Array.isArray(value);
}

/**
 * What the request of a bench knows of the wafer.
 * @param {FlowDoc} doc
 * @param {number} step
 * @param {string} operation
 * @param {Json} object
 * @param {Place} place
 * @returns {Json}
 */
function ofWafer(doc, step, operation, object, place) {
  const films = filmsOf(place);
  const material = String(object["material"] ?? "");
  switch (operation) {
    case "oxidation":
      return { ...face(doc), ...oxideOn(films, "initial_oxide_nm") };
    case "drive_in":
    case "anneal":
      return { ...face(doc), ...oxideOn(films, "initial_oxide_nm"), ...doped(place) };
    case "predeposition":
      // The bench dopes silicon only.
      return object["target"] === "polysilicon" ? {} : surface(place);
    case "implantation":
      return { ...surface(place), ...listed("through", films) };
    case "deposition":
      return films.length === 1 ? oxideOn(films, "oxide_below_nm") : {};
    case "bake":
    case "resist_strip":
      return resistOf(doc, step, films, operation === "bake");
    case "exposure":
      return printed(doc, step, films);
    case "development": {
      const light = lastOf(doc, step, "exposure");
      const { operation: _operation, ...settings } = light ? ownFields(light) : {};
      return { exposure: merged(printed(doc, step, films), settings) };
    }
    case "wet_etch":
    case "planarization":
      return thicknessOf(films, material);
    case "dry_etch": {
      const at = films.findIndex((film) => film.material === material);
      if (at < 0) return {};
      const below = films[at + 1];
      const resist = films.find((film) => film.material === "resist");
      return {
        ...thicknessOf(films, material),
        ...(below ? { stop: below } : {}),
        ...(resist && material !== "resist" ? { mask: { thickness_nm: resist.thickness_nm } } : {}),
      };
    }
    default:
      return {};
  }
}

/**
 * The films from the top down; what lies on its like is one film with it.
 * @param {Place} place
 * @returns {Film[]}
 */
function filmsOf({ layers }) {
  /** @type {Film[]} */
  const films = [];
  for (const { material, thickness_nm: nm } of layers) {
    const last = films.at(-1);
    if (last?.material === material) last.thickness_nm += nm;
    else films.push({ material, thickness_nm: nm });
  }
  return films
    .filter(({ material }) => material !== "silicon" && material !== "open")
    .map(({ material, thickness_nm: nm }) => ({ material, thickness_nm: short(nm) }));
}

/** @param {FlowDoc} doc */
function face(doc) {
  const { orientation } = /** @type {Json} */ (doc["substrate"] ?? {});
  return orientation === undefined ? {} : { orientation };
}

/**
 * The oxide that lies on the silicon itself.
 * @param {Film[]} films
 * @param {string} field
 */
function oxideOn(films, field) {
  const last = films.at(-1);
  return last && OXIDES.includes(last.material) ? { [field]: last.thickness_nm } : {};
}

/**
 * @param {string} field
 * @param {Film[]} films
 */
function listed(field, films) {
  return films.length === 0 || films.length > MOST_FILMS ? {} : { [field]: films };
}

/**
 * @param {Film[]} films
 * @param {string} material
 */
function thicknessOf(films, material) {
  const film = films.find((one) => one.material === material);
  return film ? { thickness_nm: film.thickness_nm } : {};
}

/**
 * The resist, by the name that it was spun on with.
 * @param {FlowDoc} doc
 * @param {number} step
 * @param {Film[]} films
 * @param {boolean} named
 */
function resistOf(doc, step, films, named) {
  const resist = lastOf(doc, step, "spin_coating")?.["resist"];
  return {
    ...thicknessOf(films, "resist"),
    ...(named && resist !== undefined ? { resist } : {}),
  };
}

/**
 * @param {FlowDoc} doc
 * @param {number} step
 * @param {Film[]} films
 */
function printed(doc, step, films) {
  const below = films.filter(({ material }) => material !== "resist");
  return { ...resistOf(doc, step, films, true), ...listed("stack_below", below) };
}

/**
 * The last step of an operation before another one.
 * @param {FlowDoc} doc
 * @param {number} step
 * @param {string} operation
 */
function lastOf(doc, step, operation) {
  const found = doc.steps.slice(0, step).findLast((one) => one.step["operation"] === operation);
  return found?.step;
}

/**
 * The silicon into which dopants come from above: type and net doping at its surface.
 * @param {Place} place
 */
function surface({ sheet, chart }) {
  return background(sheet[0]?.type, chart.series[0]?.y[0]);
}

/**
 * The uppermost layer as a dose of what dopes it most, in the silicon below it.
 * @param {Place} place
 */
function doped({ sheet, chart }) {
  const [top, below] = sheet;
  const [net, ...dopants] = chart.series;
  if (!top || !below || !net) return {};
  const [most] = dopants.toSorted((a, b) => Math.max(...b.y) - Math.max(...a.y));
  const middle = (below.top_um + below.bottom_um) / 2;
  const at = net.x.findIndex((x) => x >= middle);
  const start = most ? { dopant: most.label, dose_cm2: short(top.dose_cm2) } : null;
  return {
    ...(start ? { start } : {}),
    ...background(below.type, net.y.at(at)),
  };
}

/**
 * @param {string | undefined} type
 * @param {number | undefined} level per cm3
 */
function background(type, level) {
  if (type === undefined || level === undefined || level <= 0) return {};
  return { substrate: { type, concentration_cm3: short(level) } };
}
