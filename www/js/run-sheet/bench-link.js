/** The way from a step to its bench. It needs the forms of all benches, so it is loaded late. */

import { writeAddress } from "../address.js";
import { BENCHES } from "../benches.js";
import { readRequest } from "../request.js";

/** Fields that only a flow has: a bench knows no masks and no wafer. */
const FLOW_FIELDS = ["primed", "mask_level", "image", "overlay_um", "target"];

/**
 * Where the bench of a step opens with its settings; empty for a step without a bench.
 * @param {import("./types.js").Json} object
 */
export function benchLink(object) {
  const operation = String(object["operation"] ?? "");
  const bench = BENCHES.find(({ operations }) => operations.includes(operation));
  if (!bench) return "";
  const own = Object.entries(object).filter(([key]) => !FLOW_FIELDS.includes(key));
  const { settings } = readRequest(Object.fromEntries(own));
  return `./${writeAddress({ bench: bench.id, operation, settings, exercise: null })}`;
}
