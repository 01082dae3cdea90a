/** Hands each element the part of the state that it shows. */

import { writeAddress } from "./address.js";
import { benchOf } from "./benches.js";
import { LabCaution } from "./elements/lab-caution.js";
import { LabColor } from "./elements/lab-color.js";
import { LabExercise } from "./elements/lab-exercise.js";
import { LabHazardLine } from "./elements/lab-hazard-line.js";
import { LabPicture } from "./elements/lab-picture.js";
import { LabPlot } from "./elements/lab-plot.js";
import { LabReading } from "./elements/lab-reading.js";
import { LabSettings } from "./elements/lab-settings.js";
import { LabStrip } from "./elements/lab-strip.js";
import { LabWorking } from "./elements/lab-working.js";
import { h, rebuild, setText } from "./dom.js";
import { formOf } from "./forms.js";
import { afterExposure } from "./forms/exposure.js";
import { cautions, findings, schema } from "./lab.js";
import { quantity, sentence } from "./format.js";
import { readingOf } from "./readings.js";
import { buildRequest, visiblePaths } from "./request.js";
import { describe } from "./schema.js";
import { exerciseOf, isHidden, settingsOf } from "./store.js";

/** @typedef {import("./types.js").State} State */

/** Names of the picture of each operation. */
/** @type {Readonly<Record<string, string>>} */
const PICTURES = {
  oxidation: "The wafer's surface, to scale",
  spin_coating: "The wafer on the spinner",
  bake: "The wafer on the hot plate",
  exposure: "The mask, the light and the resist",
  process_window: "Width for every dose and focus",
  development: "The resist in section, to scale",
  wet_etch: "The section, to scale",
  deposition: "The film in section, to scale",
  dry_etch: "The section, to scale",
  resist_strip: "The resist on the wafer",
  planarization: "The wafer under the pad",
  predeposition: "The doped layer",
  drive_in: "The doped layer",
  anneal: "The doped layer",
  implantation: "The wafer under the beam",
  sheet: "The layers under the probes, depth to scale",
};

/**
 * @template {HTMLElement} T
 * @param {string} tag
 * @param {new () => T} kind
 * @returns {T}
 */
function find(tag, kind) {
  const element = document.querySelector(tag);
  if (!(element instanceof kind)) throw new Error(`the page has no ${tag}`);
  return element;
}

export class View {
  #strip = find("lab-strip", LabStrip);
  #settings = find("lab-settings", LabSettings);
  #picture = find("lab-picture", LabPicture);
  #plot = find("lab-plot", LabPlot);
  #color = find("lab-color", LabColor);
  #reading = find("lab-reading", LabReading);
  #caution = find("lab-caution", LabCaution);
  #line = find("lab-hazard-line", LabHazardLine);
  #working = find("lab-working", LabWorking);
  #exercise = find("lab-exercise", LabExercise);
  #hazards = {
    stamp: "",
    rows: /** @type {import("./types.js").Callout[]} */ ([]),
    found: /** @type {import("./types.js").Finding[]} */ ([]),
  };
  slow = false;

  constructor() {
    this.#exercise.addEventListener("lab-opened", () => this.#exercise.focusStart());
  }

  /**
   * @param {State} state
   * @param {import("./exercises.js").Exercises} exercises
   */
  render(state, exercises) {
    const { run } = state;
    const bench = benchOf(state.bench);
    const settings = settingsOf(state);
    const open = exerciseOf(state);
    const hidden = isHidden(state);
    const errors = this.#errors(state);
    setText(document.querySelector(".bench-title h2"), bench.name);
    setText(document.querySelector(".question"), bench.question);
    setText(document.querySelector("title"), `${bench.name} · Bare Wafer`);
    this.#notices(state.notices);
    this.#strip.render({ bench: bench.id });
    this.#settings.render({
      operation: state.operation,
      operations: bench.operations,
      schema: schema(),
      settings,
      errors,
    });
    this.#cautions(state);
    this.#openExercise(state, exercises);

    const stale =
      run.answer !== null &&
      (["refused", "broken"].includes(run.status) || Object.keys(errors).length > 0);
    const place = document.getElementById("bench");
    if (place) {
      place.dataset["state"] = hidden ? "predicting" : stale ? "stale" : "live";
      place.dataset["exercise"] = open ? "open" : "none";
    }
    for (const [selector, off] of /** @type {[string, boolean][]} */ ([
      [".zone.output", hidden],
      [".zone.reading", hidden],
      [".zone.hidden-output", !hidden],
      [".stale-mark", !stale],
      ["#open-exercise", open !== null || bench.exercise === ""],
    ])) {
      document.querySelector(selector)?.toggleAttribute("hidden", off);
    }
    if (hidden) {
      // What is asked for must not stand in the document at all, not only out of sight.
      this.#picture.render({ scene: null, title: "" });
      this.#plot.render({ charts: [], id: "", ghost: null, pinned: "" });
      this.#color.render(null);
      this.#working.render({ report: null, charts: [] });
      this.#reading.render(null);
      this.#carry(null);
      return;
    }
    const answer = run.answer;
    const pin = state.pins[state.operation] ?? null;
    const charts = answer?.charts ?? [];
    const id = state.chart[state.operation] ?? charts[0]?.id ?? "";
    this.#picture.render({
      scene: answer?.picture ?? null,
      title: PICTURES[state.operation] ?? "The wafer",
    });
    this.#plot.render({
      charts,
      id,
      ghost: pin?.charts.find((chart) => chart.id === id) ?? null,
      pinned: pin?.name ?? "",
    });
    this.#color.render(colorOf(answer?.report.results ?? {}, this.#lamp(state)));
    this.#working.render({ report: answer?.report ?? null, charts });
    this.#carry(state);
    this.#reading.render({
      run,
      reading: readingOf(state.operation, answer?.report.results ?? {}),
      slow: this.slow,
      stray: this.#stray(state),
      pinned: pin,
    });
  }

  /**
   * The way on with what stands on the form: from an exposure to its development.
   * @param {State | null} state
   */
  #carry(state) {
    const link = document.getElementById("carry");
    if (!(link instanceof HTMLAnchorElement)) return;
    const address = state ? carriedOn(state) : null;
    link.hidden = address === null;
    if (address !== null && link.getAttribute("href") !== address) link.href = address;
  }

  /**
   * The words of the light chosen.
   * @param {State} state
   */
  #lamp(state) {
    const form = schema().find((entry) => entry.operation === state.operation);
    const lamp = form?.choices.find((choice) => choice.field === "lamp");
    const chosen = String(settingsOf(state)["lamp"] ?? lamp?.default ?? "");
    return lamp?.values.find(([word]) => word === chosen)?.[1] ?? "daylight";
  }

  /** Draws the plot again in the palette in use. */
  refresh() {
    this.#plot.refresh();
  }

  shownChart() {
    return this.#plot.shown;
  }

  /**
   * What a pinned curve is called: its first big result.
   * @param {State} state
   */
  pinName(state) {
    const results = state.run.answer?.report.results ?? {};
    const [first] = readingOf(state.operation, results).big;
    return first && first.value !== null
      ? `${first.name.toLowerCase()} ${quantity(first.value, first.unit)}`
      : "the curve of before";
  }

  /**
   * Messages by field: texts that were not read, and the kernel's refusal.
   * @param {State} state
   * @returns {Record<string, string>}
   */
  #errors({ unread, run }) {
    const { error } = run;
    if (run.status !== "refused" || !error || error.field === "") return { ...unread };
    const message = error.message.replace(new RegExp(`^${escaped(error.field)}: `), "");
    return { [error.field]: `${sentence(message)} ${sentence(error.hint)}`, ...unread };
  }

  /**
   * The refusal in full if its field does not stand on the form.
   * @param {State} state
   */
  #stray(state) {
    const { error } = state.run;
    if (!error) return "";
    const paths = visiblePaths(state.operation, settingsOf(state));
    if (paths.includes(error.field)) return "";
    return `${sentence(error.message)} ${sentence(error.hint)}`;
  }

  /**
   * The cautions follow the settings, not the answer: what is refused or not yet computed names its
   * chemicals all the same.
   * @param {State} state
   */
  #cautions(state) {
    const { operation } = state;
    const settings = settingsOf(state);
    const known = (/** @type {string} */ path) =>
      describe(schema(), operation, path, settings) !== null;
    const request = buildRequest(operation, settings, known);
    const stamp = JSON.stringify(request);
    if (stamp !== this.#hazards.stamp) {
      this.#hazards = {
        stamp,
        rows: cautions(request),
        found: findings(request),
      };
    }
    const { rows, found } = this.#hazards;
    this.#caution.render({ rows, found, measured: operation === "sheet" });
    this.#line.render({ rows, found });
  }

  /**
   * @param {State} state
   * @param {import("./exercises.js").Exercises} exercises
   */
  #openExercise(state, exercises) {
    const open = exerciseOf(state);
    setText(document.getElementById("open-exercise"), "Open the exercise of this bench");
    if (!open) {
      this.#exercise.render(null);
      return;
    }
    const exercise = exercises.drawn(open);
    this.#exercise.render({
      exercise,
      open,
      student: exercises.student,
      explanation: exercises.explanation(open),
      bench: benchOf(state.bench).name,
    });
  }

  /** @param {string[]} notices */
  #notices(notices) {
    const place = document.getElementById("notices");
    if (!place) return;
    place.hidden = notices.length === 0;
    rebuild(place, notices.join("|"), () =>
      notices.map((text) => h("p", { class: "card warn" }, text)),
    );
  }
}

/**
 * The address of the developer with the exposure in view; null on other benches.
 * @param {State} state
 */
function carriedOn({ operation, settings }) {
  if (operation !== "exposure") return null;
  const { start } = formOf("development");
  const exposed = Object.entries(afterExposure(settings[operation] ?? {}));
  const carried = Object.fromEntries(exposed.filter(([key]) => key in start));
  return writeAddress({
    bench: "developer",
    operation: "development",
    settings: { ...start, ...carried },
    exercise: null,
  });
}

/**
 * What the color strip shows; nothing for results without a look.
 * @param {Record<string, unknown>} results
 * @param {string} light
 */
function colorOf(results, light) {
  const look = /** @type {import("./elements/lab-color.js").Look | undefined} */ (
    results["appearance"]
  );
  const color = /** @type {{ srgb_hex: string, name: string } | undefined} */ (results["color"]);
  const thickness = results["oxide_nm"] ?? results["thickness_nm"];
  if (!look || !color || typeof thickness !== "number") return null;
  return { thickness, color, look, light };
}

/** @param {string} text */
function escaped(text) {
  return text.replace(/[.*+?^${}()|[\]\\]/g, "\\$&");
}
