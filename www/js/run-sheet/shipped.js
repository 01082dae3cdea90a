/** The flows that come with the lab. */

/** @typedef {import("./types.js").FlowDoc} FlowDoc */

/** @type {readonly { name: string, title: string, group: string }[]} */
export const SHIPPED = [
  { name: "mos-capacitor", title: "First day: a capacitor on silicon", group: "Flows" },
  { name: "diffused-resistor", title: "Diffused resistor", group: "Flows" },
  { name: "short-cmos", title: "Short CMOS inverter, six masks", group: "Flows" },
  { name: "full-cmos", title: "2 µm n-well CMOS inverter", group: "Flows" },
  { name: "short-cmos-gas-well", title: "Short CMOS, well from a gas", group: "Variants" },
  { name: "short-cmos-arsenic-well", title: "Short CMOS, arsenic well", group: "Variants" },
  { name: "broken-window", title: "Fault finding 1", group: "Fault finding" },
  { name: "broken-tone", title: "Fault finding 2", group: "Fault finding" },
  { name: "broken-undercut", title: "Fault finding 3", group: "Fault finding" },
  { name: "broken-well", title: "Fault finding 4", group: "Fault finding" },
  { name: "broken-mask", title: "Fault finding 5", group: "Fault finding" },
  { name: "broken-contact", title: "Fault finding 6", group: "Fault finding" },
  { name: "broken-gate", title: "Fault finding 7", group: "Fault finding" },
  { name: "broken-overlay", title: "Fault finding 8", group: "Fault finding" },
];

/** The flow of a first visit. */
export const FIRST = "mos-capacitor";

export const NAMES = SHIPPED.map(({ name }) => name);

/** @type {Map<string, Promise<FlowDoc>>} */
const loaded = new Map();

/**
 * The file of a shipped flow; after a failure the next call tries again.
 * @param {string} name
 */
export function shipped(name) {
  const known = loaded.get(name) ?? load(name);
  loaded.set(name, known);
  known.catch(() => loaded.delete(name));
  return known;
}

/**
 * @param {string} name
 * @returns {Promise<FlowDoc>}
 */
async function load(name) {
  const url = new URL(`../../flows/${name}.json`, import.meta.url);
  const response = await fetch(url).catch((thrown) => {
    throw new Error(`${url.pathname} could not be loaded: ${String(thrown)}`);
  });
  if (!response.ok) {
    throw new Error(`${url.pathname} could not be loaded: the server said ${response.status}`);
  }
  return response.json();
}

/**
 * The file of the flow that a link names, if it names one.
 * @param {string} fragment
 */
export function linked(fragment) {
  const name = new URLSearchParams(fragment.replace(/^#/, "")).get("flow") ?? "";
  return NAMES.includes(name) ? shipped(name) : null;
}
