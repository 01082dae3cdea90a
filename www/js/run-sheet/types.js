/**
 * Shapes of the Run sheet. The first half is what the kernel gives; the names are those of the
 * flow files and reports, spelled alike in Rust, JSON and here.
 *
 * @typedef {import("../types.js").Json} Json
 * @typedef {import("../types.js").Scene} Scene
 * @typedef {import("../types.js").Chart} Chart
 * @typedef {import("../types.js").RequestError} RequestError
 *
 * @typedef {{ id: string, purpose?: string, hazards?: string[], note?: string,
 *   step: Json }} StepDoc
 * @typedef {{ format: string, version: number, flow: string, title?: string, aim?: string,
 *   setting?: string, steps: StepDoc[], [key: string]: unknown }} FlowDoc a flow file
 *
 * @typedef {{ id: string, name: string, words: string, purpose: string, note: string,
 *   operation: string, object: Json }} StepFacts
 * @typedef {{ name: string, title: string, aim: string, setting: string, widthUm: number,
 *   extentUm: [number, number, number, number], levels: [string, string][], labels: string[],
 *   designRules: string[], kept: number, steps: StepFacts[] }} Facts
 * @typedef {{ code: string, field: string, message: string, hint: string,
 *   x_um: number | null }} FlowWarning
 * @typedef {{ id: string, number: number, operation: string, results: Record<string, unknown>,
 *   warnings: FlowWarning[], hazards: string[] }} StepReport
 * @typedef {{ step: number, report: StepReport, topNm: number, deepNm: number,
 *   thumbnail: Scene }} Told
 * @typedef {{ id: string, quantity: string, value: unknown, unit: string,
 *   where: string }} Measurement
 * @typedef {{ measurements: Measurement[], rule_breaks: { message: string }[] }} Summary
 * @typedef {{ scene: Scene, frame: [number, number, number, number], x_nm: [number, number],
 *   z_nm: [number, number] }} SectionPicture
 * @typedef {{ level: string, name: string, polarity: string, prints: number[] }} Level
 * @typedef {{ scene: Scene, frame: [number, number, number, number], levels: Level[],
 *   overlay: { usual: number, min: number, max: number },
 *   ruleBreaks: { message: string }[] }} LayoutPicture
 * @typedef {{ material: string, variant: string | null, thickness_nm: number, top_nm: number,
 *   bottom_nm: number }} LayerAt
 * @typedef {{ type: string, top_um: number, bottom_um: number,
 *   sheet_resistance_ohm_sq: number | null, dose_cm2: number }} SheetLayer
 * @typedef {{ x_um: number, layers: LayerAt[], junctions_um: number[], sheet: SheetLayer[],
 *   polysilicon_ohm_sq: number | null, chart: Chart }} Place
 * @typedef {{ kind: string, quantity: string, x_um: number, before: number | null, after: number | null,
 *   unit: string, message: string }} Difference
 *
 * What the page itself holds.
 *
 * @typedef {readonly [number, number]} Range
 * @typedef {{ x: Range | null, z: Range | null, doping: boolean, changes: boolean,
 *   since: "step" | "pinned", both: boolean }} View x in µm, z in nm; null: all of it; since: what
 *   changes are told against; both: the pinned run above the one in view
 * @typedef {{ doc: FlowDoc, base: string, words: string, facts: Facts | null,
 *   told: readonly { step: number, report: StepReport }[], summary: Summary | null,
 *   refusal: Refusal | null }} Pin the run that the one in view is compared with
 * @typedef {{ step: number, error: RequestError }} Refusal step: from 0; -1 for the file
 * @typedef {{ doc: FlowDoc | null, base: string, facts: Facts | null, refusal: Refusal | null,
 *   broken: string, step: number, told: readonly Told[], summary: Summary | null,
 *   past: readonly FlowDoc[], future: readonly FlowDoc[], view: View, plumb: number,
 *   depth: number | null, hidden: readonly string[], playing: boolean,
 *   unread: Readonly<Record<string, string>>, notices: readonly string[], work: boolean,
 *   opened: number, show: Show, pin: Pin | null }} State hidden: mask levels that are not drawn;
 *   work: of a person's own; opened: counts flows that were opened
 * @typedef {"" | "handout" | "slides"} Show what stands in place of the working area
 */

export {};
