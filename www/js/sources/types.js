/**
 * Shapes of the Sources place: the first three come from the kernel and the command, spelled alike.
 *
 * @typedef {{ id: string, bench: string, what: string, conditions: string,
 *   request: import("../types.js").Json, read: string, factor: number,
 *   expected: number | string, unit: string, tolerance: number,
 *   allowed: "relative" | "absolute" | "channel", source: string, known_by: string,
 *   kind: string, note: string, known_deviation: string }} Check
 * @typedef {"met" | "known_deviation" | "off" | "deviation_gone" | "error"} Verdict
 * @typedef {{ ours: number | string | null, deviation: number | null, verdict: Verdict,
 *   error: string, link: string }} Outcome
 * @typedef {{ module: string, bench: string, name: string, value: number, unit: string,
 *   validity: string, source: string, known_by: string, kind: string }} Constant
 * @typedef {{ checks: Check[], left_out: { id: string, why: string }[] }} Listing
 * @typedef {{ bench: string, kind: string, result: string }} Filter empty: all
 */

export {};
