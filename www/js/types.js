/**
 * Shapes shared by the page's modules. The first half is what the kernel answers; the names are
 * those of the requests and reports, spelled alike in Rust, JSON and here.
 *
 * @typedef {{ field: string, label: string, unit: string, min: number, max: number,
 *   published: [number, number] | null, default: number | null, step: number,
 *   scale: "linear" | "log" }} NumberField
 * @typedef {{ field: string, label: string, values: [string, string][],
 *   default: string | null }} ChoiceField
 * @typedef {{ operation: string, numbers: NumberField[], choices: ChoiceField[] }} OperationSchema
 *
 * @typedef {{ label: string, unit: string, log: boolean, min: number, max: number }} Axis
 * @typedef {{ label: string, x: number[], y: number[], role: string }} Series
 * @typedef {{ x: number, y: number, tolerance: number, source: string }} CheckPoint
 * @typedef {{ id: string, title: string, x: Axis, y: Axis, series: Series[],
 *   markers: { x: number, y: number, label: string, kind: string }[],
 *   bands: { x: number[], low: number[], high: number[], meaning: string }[],
 *   zones: { from: number, to: number, meaning: string }[],
 *   published: CheckPoint[], summary: string }} Chart
 *
 * @typedef {[number, number]} Point
 * @typedef {{ kind: "area" | "ground", points: Point[],
 *   material: string, d?: string }} AreaShape d: the points as the text of a path
 * @typedef {{ kind: "tint", points: Point[], color: string, opacity: number,
 *   d?: string }} TintShape
 * @typedef {{ kind: "line", points: Point[], style: string, d?: string }} LineShape
 * @typedef {{ kind: "strokes", lines: Point[][], style: string, d?: string }} StrokesShape
 * @typedef {{ kind: "ellipse", center: Point, radii: Point, color: string,
 *   style: string }} EllipseShape
 * @typedef {{ kind: "text", at: Point, text: string, anchor: string, size: number,
 *   style: string }} TextShape
 * @typedef {AreaShape | TintShape | LineShape | StrokesShape | EllipseShape | TextShape} Shape
 * @typedef {{ width: number, height: number, shapes: Shape[], description: string }} Scene
 *
 * @typedef {{ equation: string, substituted: string, result: number, unit: string,
 *   source: string }} WorkingLine
 * @typedef {{ code: string, field: string, message: string, hint: string }} Warning
 * @typedef {{ id: string, curve: string, x: number, y: number, tolerance: number,
 *   source: string }} PublishedPoint
 * @typedef {{ operation: string, results: Record<string, unknown>, working: WorkingLine[],
 *   warnings: Warning[], published: PublishedPoint[],
 *   accuracy: { relative: number, meaning: string, source: string } | null,
 *   hazards: string[], kernel_version: string }} Report
 * @typedef {{ report: Report, charts: Chart[], picture: Scene | null }} Answer
 * @typedef {{ code: string, field: string, value: string, allowed: string, message: string,
 *   hint: string }} RequestError
 *
 * @typedef {{ rule: string, grade: "stop" | "check", steps: string[], title: string,
 *   reason: string, remedy: string, hazards: string[] }} Finding
 * @typedef {{ id: string, signal_word: "Danger" | "Warning" | "Caution", name: string,
 *   short_name: string, ghs_pictograms: string[], warning_signs: string[], can_happen: string,
 *   work_so: string, wear: string, keep_apart: string, never: string[], first_aid: string,
 *   note: string }} Callout
 *
 * @typedef {{ id: string, title: string, aim: string, minutes: number, prompt: string,
 *   unit: string, quantity: string, accepted_units: string[], hints: string[], tries: number,
 *   request: Json | null, note: string | null, digits: number, hazards: string[],
 *   explain: { ask: string, key_points: string[] }, sources: string[] }} Exercise
 * @typedef {{ verdict: "right" | "wrong" | "unreadable" | "implausible", score: number | null,
 *   message: string, read_as: string | null,
 *   feedback: { id: string, name: string, text: string }[], tries_left: number,
 *   key: { value: number, text: string, unit: string, working: string[] } | null }} Verdict
 *
 * What the page itself holds.
 *
 * @typedef {{ [key: string]: unknown }} Json
 * @typedef {string | number} Value
 * @typedef {Readonly<Record<string, Value>>} Settings
 * @typedef {{ word: string, label: string, fields: string[],
 *   set?: Readonly<Record<string, string | number | boolean | null>> }} ModeOption
 * @typedef {{ mode: string, label: string, options: ModeOption[] }} Mode
 * @typedef {{ label: string, help: string }} TextField
 * @typedef {{ when: string, is: string, fields: string[] }} Condition fields that stand on the form
 *   only while another one has that word
 * @typedef {{ title: string, folded?: boolean, items: (string | Mode | Condition)[] }} Group
 * @typedef {{ operation: string, label: string, groups: Group[],
 *   start: Settings, texts?: Readonly<Record<string, TextField>> }} Form
 * @typedef {{ name: string, note: string, settings: Settings }} Preset
 * @typedef {{ id: string, family: string, name: string, question: string, operations: string[],
 *   exercise: string }} Bench
 * @typedef {{ status: "idle" | "computing" | "done" | "refused" | "broken",
 *   answer: Answer | null, error: RequestError | null, details: string,
 *   flown?: Flown }} Run
 * @typedef {{ done: number, total: number }} Flown single ions while they fly, or points of a window
 * @typedef {{ charts: Chart[], results: Record<string, unknown>, name: string }} Pin
 * @typedef {{ id: string, set: number, settled: boolean, tries: number, hints: number,
 *   committed: string[], verdict: Verdict | null, explained: boolean }} ExerciseState
 * @typedef {{ bench: string, operation: string,
 *   settings: Readonly<Record<string, Settings>>, unread: Readonly<Record<string, string>>,
 *   run: Run, runs: Readonly<Record<string, Run>>,
 *   pins: Readonly<Record<string, Pin>>, chart: Readonly<Record<string, string>>,
 *   exercises: Readonly<Record<string, ExerciseState>>, notices: string[] }} State
 */

export {};
