/**
 * The pinned run in a link: `pin` holds its differences from the shipped flow, `pinflow` names
 * that flow where it is another one than that of the link. What is longer than a link says `kept`:
 * it stands in the browser that made the link, and is missed in any other.
 */

import { readPatch, shown } from "../address.js";
import { difference } from "../diff.js";

/** @typedef {import("../types.js").FlowDoc} FlowDoc */
/**
 * @typedef {{ kept: true } | { kept: false, flow: string,
 *   patch: import("../diff.js").Patch }} PinLink
 */

/** The run is too long for a link. */
const KEPT = "kept";

/**
 * The link with the pinned run in it, or with the word that it does not fit.
 * @param {string} text
 * @param {import("../types.js").State} state
 * @param {FlowDoc | null} base the shipped flow of the pinned run
 * @param {number} longest
 * @returns {string | null} null if not even the word fits
 */
export function withPin(text, { pin, base: flow }, base, longest) {
  if (!pin) return text;
  if (base) {
    const query = new URLSearchParams({
      pin: JSON.stringify(difference(base, pin.doc) ?? {}),
    });
    if (pin.base !== flow) query.set("pinflow", pin.base);
    const whole = `${text}&${query.toString()}`;
    if (whole.length <= longest) return whole;
  }
  const short = `${text}&pin=${KEPT}`;
  return short.length <= longest ? short : null;
}

/**
 * Whether a link could not take the pinned run along.
 * @param {string} address
 */
export function leavesPinOut(address) {
  return address.endsWith(`&pin=${KEPT}`);
}

/**
 * @param {(key: string) => string | null} take
 * @param {readonly string[]} flows the shipped ones
 * @param {string[]} notices
 * @returns {PinLink | null}
 */
export function readPin(take, flows, notices) {
  const text = take("pin");
  const flow = take("pinflow") ?? "";
  if (text === null) return null;
  if (text === KEPT) return { kept: true };
  if (flow !== "" && !flows.includes(flow)) {
    notices.push(`pinflow: ${shown(flow)} was refused; allowed: ${flows.join(", ")}.`);
    return null;
  }
  const patch = readPatch(text, notices, "pin");
  return patch && { kept: false, flow, patch };
}
