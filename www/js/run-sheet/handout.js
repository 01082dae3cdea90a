/**
 * The handout: every step with its section, words and cautions, made to be printed. All sections
 * are drawn at one scale. It can be looked at in the page first; the browser's own print command
 * gives the same, with the traveller's small sections where a larger one was not drawn yet.
 */

import { signal } from "../callout.js";
import { h, s, setText } from "../dom.js";
import { drawShapes } from "../elements/lab-picture.js";
import { sentence } from "../format.js";
import { measured } from "./elements/sheet-report.js";
import { rule } from "./ruling.js";
import { factOf } from "./view.js";
import { nameAndUnit, valueWords } from "./words.js";

/** More letters of cautions than this do not stand beside a section, but below it. */
const BESIDE = 1100;

/** @typedef {import("./types.js").State} State */
/** @typedef {import("./types.js").Told} Told */
/** @typedef {import("./types.js").Scene} Scene */
/** @typedef {import("../types.js").Callout} Callout */

/** Size in which a section is drawn; print makes it somewhat smaller. */
const VIEW = { width: 624, height: 150, doping: true, changes: true };
const PLAN_WIDTH = 620;

const DEFERRAL =
  "A simulation, not a training certificate. In a real lab follow your site's rules, the supplier's safety data sheet, local codes, and work only with trained staff.";

export class Handout {
  #room;
  #place = h("section", { id: "handout", hidden: "", "aria-labelledby": "handout-title" });
  #bar = h("p", { class: "buttons handout-bar" });
  #progress = h("span", { class: "handout-progress", "aria-live": "polite" });
  #body = h("div", { class: "handout-body" });
  /** @type {WeakMap<Told, Scene>} */
  #pictures = new WeakMap();
  /** @type {Scene | null} */
  #plan = null;
  /** What the pictures were drawn for: another run needs others. */
  /** @type {unknown} */
  #drawnFor = null;
  /** @type {Promise<void> | null} */
  #preparing = null;
  /** What the text was made from. */
  /** @type {unknown[]} */
  #stamp = [];
  /** The short title and the notice on every sheet of paper. */
  #margins = new CSSStyleSheet();

  /** @param {import("./presenting.js").Room} room */
  constructor(room) {
    this.#room = room;
    this.#bar.append(
      h("button", { type: "button", id: "print-handout", class: "main" }, "Print"),
      h("button", { type: "button", id: "leave-handout" }, "Back to the run sheet"),
      this.#progress,
    );
    this.#place.append(this.#bar, this.#body);
    document.querySelector("main")?.append(this.#place);
    document.adoptedStyleSheets.push(this.#margins);
  }

  /** Shows it in the page. */
  open() {
    this.#place.hidden = false;
    this.#write();
    this.#body.querySelector("h2")?.focus({ preventScroll: true });
    window.scrollTo({ top: 0 });
    void this.prepare();
  }

  close() {
    this.#place.hidden = true;
  }

  /**
   * @param {State} state
   * @param {State} before
   */
  follow(state, before) {
    if (state.summary !== null && before.summary === null) void this.prepare();
    else if (state.told !== before.told || state.doc !== before.doc) this.#say();
  }

  /** Draws every section; those of the run that is done. */
  async prepare() {
    const { state } = this.#room.store;
    if (state.summary === null) return;
    if (this.#drawnFor !== state.summary || this.#preparing === null) {
      this.#drawnFor = state.summary;
      this.#preparing = this.#draw(state);
    }
    await this.#preparing;
    this.#write();
    if (!this.#place.hidden) performance.mark("handout-ready");
  }

  /** Prepares, then hands over to the browser's print dialog. */
  async print() {
    await this.prepare();
    window.print();
  }

  /** The browser is about to print, whoever has asked for it, and does not wait. */
  beforePrint() {
    if (!this.#room.store.state.doc) return;
    this.#write();
    document.documentElement.dataset["printing"] = "";
    this.#place.hidden = false;
  }

  afterPrint() {
    delete document.documentElement.dataset["printing"];
    this.#place.hidden = this.#room.store.state.show !== "handout";
  }

  /** @param {State} state whose run is done */
  async #draw(state) {
    this.#plan = /** @type {Scene | null} */ (
      await this.#ask("plan", [state.told.length - 1, PLAN_WIDTH, NaN])
    );
    for (const [k, told] of state.told.entries()) {
      if (this.#pictures.has(told)) continue;
      if (this.#room.store.state.summary !== state.summary) return;
      const picture = await this.#ask("page", [k, VIEW]);
      if (!picture) continue;
      const { scene } = /** @type {import("./types.js").SectionPicture} */ (picture);
      this.#pictures.set(told, scene);
      this.#say();
    }
  }

  /**
   * @param {"page" | "plan"} kind
   * @param {unknown[]} values
   * @returns {Promise<unknown>}
   */
  #ask(kind, values) {
    return new Promise((resolve) => this.#room.run.ask(kind, values, resolve));
  }

  #say() {
    if (this.#place.hidden) return;
    const { doc, told, summary } = this.#room.store.state;
    const count = doc?.steps.length ?? 0;
    const drawn = told.filter((one) => this.#pictures.has(one)).length;
    if (summary === null) setText(this.#progress, `${told.length} of ${count} steps have run …`);
    else if (drawn < count) setText(this.#progress, `${drawn} of ${count} sections are drawn …`);
    else setText(this.#progress, `${count} steps, ready to be printed.`);
  }

  /** Writes all of it anew if anything of it has changed. */
  #write() {
    const { state } = this.#room.store;
    const { doc, facts, told, summary } = state;
    if (!doc) return;
    this.#say();
    const pictures = told.map((one) => this.#pictures.get(one));
    const stamp = [doc, facts, summary, this.#plan, ...told, ...pictures];
    if (stamp.length === this.#stamp.length && stamp.every((part, k) => part === this.#stamp[k])) {
      return;
    }
    this.#stamp = stamp;
    const title = facts?.title || doc.title || doc.flow;
    this.#margins.replaceSync(margins(`Bare Wafer: ${title}`));
    this.#body.replaceChildren(
      ...head(state, title, this.#plan),
      h("ol", { class: "handout-steps" }, ...doc.steps.map((_, k) => this.#step(state, k))),
      h("section", { class: "handout-measured" }, ...(summary ? measured(summary) : [])),
      h("p", { class: "handout-deferral" }, DEFERRAL),
    );
    for (const region of this.#body.querySelectorAll(".table-region")) {
      region.removeAttribute("tabindex");
      region.className = "";
    }
  }

  /**
   * @param {State} state
   * @param {number} k
   */
  #step(state, k) {
    const { doc } = state;
    const own = doc?.steps[k];
    const fact = factOf(state, k);
    const said = state.told[k]?.report.id === own?.id ? state.told[k] : undefined;
    const scene = said ? (this.#pictures.get(said) ?? said.thumbnail) : null;
    const name = fact?.name ?? String(own?.step["operation"] ?? "").replaceAll("_", " ");
    const rows = this.#room.view.cautions(own?.step, said);
    const warnings = said?.report.warnings ?? [];
    const purpose = fact?.purpose || own?.purpose || "";
    const note = own?.note ?? "";
    const block = rows.length === 0 ? null : cautionsBlock(rows);
    const below = (block?.textContent ?? "").length > BESIDE;
    return h(
      "li",
      { class: `handout-step${below ? " below" : ""}`, "data-step": own?.id ?? "" },
      h(
        "div",
        { class: "handout-what" },
        h(
          "h3",
          {},
          h("span", { class: "number" }, String(k + 1).padStart(2, "0")),
          ` ${name}: ${own?.id ?? ""}`,
        ),
        ...(fact ? [h("p", { class: "handout-words" }, sentence(fact.words))] : []),
        ...(purpose === "" ? [] : [h("p", { class: "handout-purpose" }, purpose)]),
        scene ? picture(scene, `Section after step ${k + 1}, ${name}`) : notRun(state, k),
        ...(note === ""
          ? []
          : [h("p", { class: "handout-note" }, h("strong", {}, "Note: "), note)]),
        ...warnings.map(({ message, hint }) =>
          h(
            "p",
            { class: "handout-warning" },
            h("strong", {}, "Warning of the run: "),
            `${sentence(message)} ${sentence(hint)}`,
          ),
        ),
      ),
      ...(block ? [block] : []),
    );
  }
}

/**
 * The facts of the flow.
 * @param {State} state
 * @param {string} title
 * @param {Scene | null} masks
 */
function head(state, title, masks) {
  const { doc, facts, told } = state;
  if (!doc) return [];
  const warned = told.flatMap(({ report }, k) => (report.warnings.length > 0 ? [k + 1] : []));
  /** @type {[string, string][]} */
  const rows = [
    ["Flow", `${doc.flow}, ${doc.steps.length} steps`],
    ["Setting", facts?.setting ?? doc.setting ?? ""],
    ["Wafer", waferWords(doc["substrate"])],
    [
      "Masks",
      (facts?.levels ?? [])
        .map(([level, name]) => (name && name !== level ? `${level} (${name})` : level))
        .join(", "),
    ],
    ["Section", facts ? `${valueWords(facts.widthUm, "µm")} along the line A-A′` : ""],
    ["Warnings of the run", warned.length === 0 ? "none" : `at steps ${warned.join(", ")}`],
  ];
  return [
    h("h2", { id: "handout-title", tabindex: "-1" }, title),
    h("p", { class: "handout-aim" }, facts?.aim ?? String(doc["aim"] ?? "")),
    h(
      "div",
      { class: "handout-head" },
      h(
        "dl",
        { class: "handout-facts" },
        ...rows
          .filter(([, text]) => text !== "")
          .map(([name, text]) => h("div", {}, h("dt", {}, name), h("dd", {}, text))),
      ),
      ...(masks ? [plan(masks)] : []),
    ),
    h("p", { class: "handout-deferral" }, DEFERRAL),
  ];
}

/** @param {unknown} substrate */
function waferWords(substrate) {
  if (typeof substrate !== "object" || substrate === null) return "";
  const { type, orientation, ...sizes } = /** @type {Record<string, unknown>} */ (substrate);
  const known = [
    typeof type === "string" ? `${type}-type` : "",
    typeof orientation === "string" ? `(${orientation})` : "",
    ...Object.entries(sizes)
      .filter(([, value]) => typeof value === "number")
      .map(([key, value]) => {
        const [name, unit] = nameAndUnit(key);
        return `${name.toLowerCase()} ${valueWords(value, unit)}`;
      }),
  ];
  return known.filter((words) => words !== "").join(", ");
}

/** @param {Scene} scene */
function plan(scene) {
  const figure = picture(scene, "The masks from above");
  figure.prepend(h("figcaption", {}, "The masks from above, with the section line A-A′"));
  figure.classList.add("handout-plan");
  return figure;
}

/**
 * @param {Scene} scene
 * @param {string} name
 */
function picture({ width, height, shapes }, name) {
  const drawing = s("g");
  drawShapes(drawing, shapes);
  rule(drawing);
  const svg = s("svg", { viewBox: `0 0 ${width} ${height}`, role: "img", "aria-label": name });
  svg.append(drawing);
  return h("figure", { class: "picture" }, svg);
}

/**
 * @param {State} state
 * @param {number} k
 */
function notRun({ refusal, told }, k) {
  const error = refusal?.step === k ? refusal.error : null;
  const words = error
    ? `Not done: ${sentence(error.message)} ${sentence(error.hint)}`
    : `Not run yet: ${told.length} steps have run.`;
  return h("p", { class: "handout-not-run" }, words);
}

/**
 * All cautions of a step; what several have in common is said once, with their names.
 * @param {Callout[]} rows
 */
function cautionsBlock(rows) {
  return h(
    "div",
    { class: "handout-cautions" },
    ...rows.map((row) =>
      h(
        "p",
        { class: "handout-caution", "data-hazard": row.id },
        signal(row),
        " ",
        h("strong", {}, row.name),
        `: ${sentence(row.can_happen)} `,
        ...row.never.flatMap((rule) => [
          h("strong", { class: "never-word" }, "Never "),
          `${rule.replace(/^Never /, "")} `,
        ]),
      ),
    ),
    ...shared(rows, "Wear", ({ wear }) => wear),
    ...shared(rows, "First aid", ({ first_aid: aid }) => aid),
    h(
      "p",
      { class: "handout-defers" },
      "Follow your site's rules, the supplier's safety data sheet, local codes and trained staff.",
    ),
  );
}

/**
 * @param {Callout[]} rows
 * @param {string} title
 * @param {(row: Callout) => string} textOf
 */
function shared(rows, title, textOf) {
  /** @type {Map<string, string[]>} */
  const names = new Map();
  for (const row of rows) {
    const text = textOf(row);
    if (text !== "") names.set(text, [...(names.get(text) ?? []), row.short_name]);
  }
  return [...names].map(([text, whose]) =>
    h(
      "p",
      {},
      h("strong", {}, names.size === 1 ? `${title}: ` : `${title} (${whose.join("; ")}): `),
      sentence(text),
    ),
  );
}

/**
 * Margins of the sheets of paper: title, notice, page numbers.
 * @param {string} title
 */
function margins(title) {
  /** @param {string} text */
  const quoted = (text) => `"${text.replace(/[^\p{L}\p{N} .,:;()µ'′+-]/gu, " ")}"`;
  return `@page {
    @top-left { content: ${quoted(title)}; }
    @bottom-left { content: ${quoted("A simulation, not a training certificate. Follow your site's rules, the supplier's safety data sheet, local codes and trained staff.")}; }
    @bottom-right { content: counter(page) " / " counter(pages); }
  }`;
}
