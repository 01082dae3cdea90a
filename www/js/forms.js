/**
 * What each operation's form asks for, in which order, and where a first visit starts. Labels,
 * units, ranges and word lists come from the kernel's schema; a field that the schema does not
 * know is not shown and not sent.
 */

import { DEVELOPMENT_FORMS } from "./forms/development.js";
import { DIFFUSION_FORMS } from "./forms/diffusion.js";
import { DOPING_FORMS } from "./forms/doping.js";
import { ETCHING_FORMS } from "./forms/etching.js";
import { EXPOSURE_FORMS } from "./forms/exposure.js";
import { FILM_FORMS } from "./forms/films.js";

/** @type {Readonly<Record<string, import("./types.js").Form>>} */
export const FORMS = {
  ...FILM_FORMS,
  ...EXPOSURE_FORMS,
  ...DEVELOPMENT_FORMS,
  ...ETCHING_FORMS,
  ...DIFFUSION_FORMS,
  ...DOPING_FORMS,
};

/**
 * The form of an operation.
 * @param {string} operation
 */
export function formOf(operation) {
  const form = FORMS[operation];
  if (!form) throw new Error(`no form for the operation ${operation}`);
  return form;
}
