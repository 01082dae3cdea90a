/** The exports of the compiled kernel that the page uses, as `wasm-bindgen` gives them. */

import type {
  Answer,
  Chart,
  Exercise,
  Callout,
  Json,
  OperationSchema,
  Scene,
  Verdict,
} from "../../js/types.js";

import type {
  Difference,
  Facts,
  LayoutPicture,
  Place,
  SectionPicture,
  StepReport,
  Summary,
  Told,
} from "../../js/run-sheet/types.js";

type Theme = "light" | "dark";
type DrawOptions = {
  theme: Theme;
  width: number;
  height: number;
  pixelRatio: number;
};

export default function init(from: { module_or_path: WebAssembly.Module | URL }): Promise<unknown>;
export function kernelVersion(): string;
export function lastPanic(): string | undefined;
export function schema(): OperationSchema[];
export function bench(request: Json, narrow: boolean): Answer;
export function checkText(check: string): string;
export class IonRun {
  constructor(request: Json, narrow: boolean);
  readonly total: number;
  advance(ions: number): number;
  answer(): Answer;
  free(): void;
}
export class WindowRun {
  constructor(request: Json, narrow: boolean);
  readonly total: number;
  advance(points: number): number;
  answer(): Answer;
  free(): void;
}
/** Only in the module of whole flows. */
export class FlowRun {
  load(text: string): Facts;
  readonly done: boolean;
  step(): Told;
  section(step: number, view: object): SectionPicture;
  layout(step: number, width: number, x: number): Scene;
  at(step: number, x: number): Place;
  across(step: number, depth: number): Chart;
  sentences(step: number): string[];
  comparedWithEarlier(step: number): Difference[] | null;
  compared(step: number, other: number): Difference[];
  summary(): Summary;
  pin(text: string): { facts: Facts; told: { step: number; report: StepReport }[] };
  unpin(): void;
  readonly pinnedDone: boolean;
  stepPinned(): { step: number; report: StepReport };
  pinnedSection(step: number, view: object): SectionPicture;
  pinnedAt(step: number, x: number): Place;
  pinnedAcross(step: number, depth: number): Chart;
  comparedWithPinned(step: number, other: number): Difference[];
  pinnedSummary(): Summary;
}
/** Only in the module of whole flows. */
export function flowLayout(text: string, view: object): LayoutPicture;
/** Only in the module of whole flows. */
export function stepSchema(): OperationSchema[];
export function drawChart(
  canvas: HTMLCanvasElement,
  chart: Chart,
  ghost: Chart | null,
  options: DrawOptions,
): void;
export function chartSvg(chart: Chart, ghost: Chart | null, options: DrawOptions): string;
export function pictureSvg(request: Json, theme: Theme): string;
export function cautions(request: Json): Callout[];
/** Not in the modules whose benches can make no known mistake by their settings. */
export const findings: ((request: Json) => import("../../js/types.js").Finding[]) | undefined;
/** Only in the module of whole flows. */
export function cautionsOf(ids: string[]): Callout[];
export function safetySheet(text: string): import("../../js/safety/types.js").Sheet;
export function exercise(id: string, code: string, student: string, set: number): Exercise;
export function checkAnswer(
  id: string,
  code: string,
  student: string,
  set: number,
  text: string,
  tryNumber: number,
  confirmed: boolean,
): Verdict;
