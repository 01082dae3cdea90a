/** From the settings of a form to a request of the kernel, and back. */

import { formOf } from "./forms.js";

/** @typedef {import("./types.js").Settings} Settings */
/** @typedef {import("./types.js").Mode} Mode */
/** @typedef {import("./types.js").Json} Json */

/**
 * The modes of a form.
 * @param {string} operation
 */
export function modesOf(operation) {
  return formOf(operation)
    .groups.flatMap((group) => group.items)
    .filter((item) => typeof item !== "string" && "mode" in item);
}

/**
 * The option of a mode that is chosen; the first one if the setting names none.
 * @param {Mode} mode
 * @param {Settings} settings
 */
export function chosen(mode, settings) {
  const option = mode.options.find((o) => o.word === settings[mode.mode]) ?? mode.options[0];
  if (!option) throw new Error(`the mode ${mode.mode} has no options`);
  return option;
}

/**
 * The paths of the fields that stand on the form with these settings.
 * @param {string} operation
 * @param {Settings} settings
 * @returns {string[]}
 */
export function visiblePaths(operation, settings) {
  return formOf(operation)
    .groups.flatMap((group) => group.items)
    .flatMap((item) => {
      if (typeof item === "string") return [item];
      if ("mode" in item) return chosen(item, settings).fields;
      return settings[item.when] === item.is ? item.fields : [];
    });
}

/**
 * Builds the request. Only fields that `known` accepts are sent.
 * @param {string} operation
 * @param {Settings} settings
 * @param {(path: string) => boolean} known
 * @returns {Json}
 */
export function buildRequest(operation, settings, known) {
  /** @type {Json} */
  const request = { operation };
  for (const mode of modesOf(operation)) {
    const set = chosen(mode, settings).set ?? {};
    for (const [path, word] of Object.entries(set)) put(request, path, word);
  }
  for (const path of visiblePaths(operation, settings)) {
    const value = settings[path];
    if (value !== undefined && known(path)) put(request, path, value);
  }
  return request;
}

/**
 * Puts a value at a path such as `through[0].material`.
 * @param {Json} target
 * @param {string} path
 * @param {import("./types.js").Value | boolean | null} value
 */
function put(target, path, value) {
  const keys = path.replace(/\[(\d+)\]/g, ".$1").split(".");
  const last = keys.pop() ?? "";
  let here = target;
  keys.forEach((key, k) => {
    const next = keys[k + 1] ?? last;
    const child = here[key] ?? (/^\d+$/.test(next) ? [] : {});
    here[key] = child;
    here = /** @type {Json} */ (child);
  });
  here[last] = value;
}

/**
 * The settings that stand for a request: the reverse of {@link buildRequest}. Every mode takes the
 * option whose fields the request has most of.
 * @param {Json} request
 * @returns {{ operation: string, settings: Settings }}
 */
export function readRequest(request) {
  const operation = String(request["operation"] ?? "");
  /** @type {Record<string, import("./types.js").Value | boolean | null>} */
  const flat = {};
  flatten(request, "", flat);
  delete flat["operation"];
  /** @type {Record<string, import("./types.js").Value>} */
  const settings = { ...formOf(operation).start, ...withoutSwitches(flat) };
  for (const mode of modesOf(operation)) {
    let best = mode.options[0];
    let bestCount = -1;
    for (const option of mode.options) {
      const set = Object.entries(option.set ?? {});
      if (set.some(([path, word]) => flat[path] !== word)) continue;
      const missing = option.fields.filter((path) => !(path in flat)).length;
      const count = option.fields.length - missing + set.length;
      if (missing === 0 && count > bestCount) {
        best = option;
        bestCount = count;
      }
    }
    if (best) settings[mode.mode] = best.word;
    for (const option of mode.options) {
      for (const path of Object.keys(option.set ?? {})) {
        // What one option sets may be a field of the chosen one.
        if (!best?.fields.includes(path)) delete settings[path];
      }
    }
  }
  return { operation, settings };
}

/**
 * The settings without yes, no and none: on the form they are options of a mode.
 * @param {Record<string, import("./types.js").Value | boolean | null>} flat
 * @returns {Record<string, import("./types.js").Value>}
 */
function withoutSwitches(flat) {
  /** @type {Record<string, import("./types.js").Value>} */
  const settings = {};
  for (const [path, value] of Object.entries(flat)) {
    if (value !== null && typeof value !== "boolean") settings[path] = value;
  }
  return settings;
}

/**
 * @param {unknown} value
 * @param {string} path
 * @param {Record<string, import("./types.js").Value | boolean | null>} into
 */
function flatten(value, path, into) {
  if (value === null || ["string", "number", "boolean"].includes(typeof value)) {
    into[path] = /** @type {string | number | boolean | null} */ (value);
  } else if (Array.isArray(value)) {
    value.forEach((item, k) => flatten(item, `${path}[${k}]`, into));
  } else if (typeof value === "object" && value !== null) {
    for (const [key, item] of Object.entries(value)) {
      flatten(item, path === "" ? key : `${path}.${key}`, into);
    }
  }
}
