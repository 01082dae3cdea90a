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

type Theme = "light" | "dark";
type DrawOptions = { theme: Theme; width: number; height: number; pixelRatio: number };

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
export function drawChart(
  canvas: HTMLCanvasElement,
  chart: Chart,
  ghost: Chart | null,
  options: DrawOptions,
): void;
export function chartSvg(chart: Chart, ghost: Chart | null, options: DrawOptions): string;
export function pictureSvg(request: Json, theme: Theme): string;
export function cautions(request: Json): Callout[];
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
