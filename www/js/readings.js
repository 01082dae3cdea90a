/**
 * Which results are big, what each means in everyday words, and one sentence on what to notice.
 * Compares results with each other only; every number comes from the kernel's report.
 */

import { quantity } from "./format.js";
import { development } from "./readings/development.js";
import { diffusion, heating } from "./readings/diffusion.js";
import { implantation, sheet } from "./readings/doping.js";
import { dryEtch, planarization, resistStrip, wetEtch } from "./readings/etching.js";
import { exposure, processWindow } from "./readings/exposure.js";
import { bake, deposition, oxidation, spinCoating } from "./readings/films.js";

/** @typedef {Record<string, unknown>} Results */
/** @typedef {{ name: string, result: string, unit: string, value: number | null,
 *   meaning: string }} Big */
/** @typedef {{ caption: string, heads: string[], rows: string[][], notes: string[] }} Compared */
/** @typedef {{ big: Big[], notice: string, spokenSummary: string,
 *   compared: Compared | null }} Reading */

/**
 * @param {string} operation
 * @param {Results} results
 * @returns {Reading}
 */
export function readingOf(operation, results) {
  const build = BUILDERS[operation];
  const { big, notice, compared = null } = build ? build(results) : NOTHING;
  const said = big.map((b) => `${b.name} ${b.value === null ? "none" : quantity(b.value, b.unit)}`);
  return {
    big,
    notice,
    compared,
    spokenSummary: said.length === 0 ? "" : `${said.join(", ")}.`,
  };
}

/** @typedef {{ big: Big[], notice: string, compared?: Compared | null }} Built */

/** @type {Built} */
const NOTHING = { big: [], notice: "" };

/** @type {Readonly<Record<string, (r: Results) => Built>>} */
const BUILDERS = {
  oxidation: oxidation,
  spin_coating: spinCoating,
  bake: bake,
  exposure: exposure,
  process_window: processWindow,
  development: development,
  wet_etch: wetEtch,
  deposition: deposition,
  dry_etch: dryEtch,
  resist_strip: resistStrip,
  planarization: planarization,
  predeposition: diffusion,
  drive_in: heating,
  anneal: heating,
  implantation: implantation,
  sheet: sheet,
};
