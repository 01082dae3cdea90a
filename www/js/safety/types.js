/**
 * Shapes of the Safety place, spelled as the kernel and the command do.
 *
 * @typedef {{ value: string, known_by: string }} Limit
 * @typedef {{ classification: boolean, osha_pel: boolean, niosh_rel: boolean,
 *   niosh_idlh: boolean }} ToConfirm
 * @typedef {import("../types.js").Callout & { kind: string, cas: string[],
 *   h_codes: { code: string, meaning: string, variant: boolean, note: string }[],
 *   limits: { osha_pel: Limit, niosh_rel: Limit, niosh_idlh: Limit },
 *   listed: { title: string, text: string, known_by: string }[],
 *   sources: { part: string, source: string, known_by: string }[], spill: string,
 *   confirm: ToConfirm, first_aid_full: string }} Row
 * @typedef {{ label: string, request: import("../types.js").Json, hazards: string[] }} Setting
 * @typedef {{ title: string, text: string, known_by: string }} Entry
 * @typedef {{ id: string, grade: "stop" | "check", title: string, reason: string,
 *   remedy: string, hazards: string[], source: string }} Rule
 * @typedef {{ text: string, right: boolean, misconception: string, feedback: string }} Choice
 * @typedef {{ id: string, title: string, prompt: string, hazards: string[],
 *   options: Choice[], explain: { ask: string, key_points: string[] },
 *   sources: string[] }} Question
 * @typedef {{ notice: string, rows: Row[], settings: Setting[], rules_of_the_bench: Entry[],
 *   rules_of_sequence: Rule[], emergency: Entry[], glossary: Entry[],
 *   codes: [string, string][], sources: Entry[], questions: Question[] }} Handbook
 * @typedef {import("../types.js").Finding} Finding
 * @typedef {{ id: string, operation: string, purpose: string, hazards: string[] }} SheetStep
 * @typedef {{ title: string, steps: SheetStep[], hazards: string[],
 *   findings: Finding[] }} Sheet
 * @typedef {{ view: string, hazard: string, search: string, sheet: string }} Place
 */

export {};
