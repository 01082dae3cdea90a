/**
 * Slides: one step large, for the back row of a hall. Keys: arrows, Page Up and Down, space, Home
 * and End go through the steps, f fills the screen, Escape leaves.
 */

import { signal } from "../callout.js";
import { h, rebuild, s, setText } from "../dom.js";
import { drawShapes } from "../elements/lab-picture.js";
import { sentence } from "../format.js";
import { viewOf } from "./pictures.js";
import { shownStep } from "./store.js";
import { factOf } from "./view.js";

/** @typedef {import("./types.js").State} State */
/** @typedef {import("./types.js").Told} Told */
/** @typedef {import("./types.js").SectionPicture} SectionPicture */
/** @typedef {import("../types.js").Callout} Callout */

/**
 * Letters of a section, as the kernel draws them, and as a hall needs them, in px. They are made
 * larger than the rest: the kernel leaves room between its lines. Labels then need some more room
 * at the right, in the picture's own pixels.
 */
const LETTERS = 13;
const LEGIBLE = 24.1;
const LARGER = 1.28;
const ASIDE = 48;
/** A slide narrower than this is held in a hand. */
const HALL = 700;
/** What a picture is made for in its own pixels when there is room for larger letters. */
const USUAL = 850;
/** What the kernel adds below and above the section itself for scale bars, in its pixels. */
const BARS = 58;
const BARS_NARROW = 76;
const FLATTEST = 60;
/** Height of a section that is held in a hand. */
const HELD = 200;
/** How many letters of cautions a slide has room for beside the worst one. */
const MOST_WORDS = 420;

/** @type {Readonly<Record<string, number>>} */
const KEYS = {
  ArrowRight: 1,
  ArrowDown: 1,
  PageDown: 1,
  " ": 1,
  ArrowLeft: -1,
  ArrowUp: -1,
  PageUp: -1,
  Home: -Infinity,
  End: Infinity,
};

export class Slides {
  #room;
  #open = false;
  #name = h("h2", { id: "slide-name", tabindex: "-1" });
  #words = h("p", { class: "slide-words" });
  #drawing = s("g");
  #letters = s("g");
  #svg = s("svg", {
    role: "img",
    "aria-labelledby": "slide-name",
    "aria-describedby": "slide-said",
  });
  #frame = h("div", { class: "slide-picture picture" });
  #said = h("p", { class: "visually-hidden", id: "slide-said" });
  #purpose = h("p", { class: "slide-purpose" });
  #warnings = h("div", { class: "slide-warnings" });
  #cautions = h("div", { class: "slide-cautions", role: "group", "aria-label": "Cautions" });
  #progress = h("span", { class: "slide-progress" });
  #place = h("section", { id: "slides", hidden: "", "aria-labelledby": "slide-name" });
  /** @type {WeakMap<Told, { key: string, picture: SectionPicture }>} */
  #pictures = new WeakMap();
  #observer = new ResizeObserver(() => this.#draw());

  /** @param {import("./presenting.js").Room} room */
  constructor(room) {
    this.#room = room;
    this.#svg.append(this.#drawing, this.#letters);
    this.#frame.append(this.#svg);
    const bar = h(
      "p",
      { class: "buttons slide-bar", role: "group", "aria-label": "Slides" },
      button("back", "Step back", "◂"),
      this.#progress,
      button("on", "Step on", "▸"),
      button("full", "Fill the screen", "Full"),
      button("leave", "Leave the slides", "Leave"),
    );
    this.#place.append(
      h("div", { class: "slide-head" }, this.#name, this.#words, bar),
      this.#frame,
      this.#said,
      h("div", { class: "slide-text" }, this.#purpose, this.#warnings, this.#cautions),
      h(
        "p",
        { class: "slide-defers" },
        "A simulation. In a real lab: your site's rules, safety data sheets, local codes, trained staff.",
      ),
    );
    this.#place.addEventListener("click", (event) => {
      const found = event.target instanceof Element ? event.target.closest("button") : null;
      const to = found?.dataset["slide"];
      if (to) this.#use(to);
    });
    document.querySelector("main")?.append(this.#place);
  }

  open() {
    if (this.#open) return;
    this.#open = true;
    this.#place.hidden = false;
    document.addEventListener("keydown", this.#press);
    this.#observer.observe(this.#frame);
    this.#write();
    this.#name.focus({ preventScroll: true });
  }

  close() {
    if (!this.#open) return;
    this.#open = false;
    this.#place.hidden = true;
    document.removeEventListener("keydown", this.#press);
    this.#observer.disconnect();
    if (document.fullscreenElement) void document.exitFullscreen();
    document.getElementById("show-slides")?.focus();
  }

  /**
   * @param {State} state
   * @param {State} before
   */
  follow(state, before) {
    const [now, then] = [shownStep(state), shownStep(before)];
    const other = state.step !== before.step || state.facts !== before.facts;
    if (other || state.told[now] !== before.told[then] || state.summary !== before.summary) {
      this.#write();
    }
  }

  /** @param {KeyboardEvent} event */
  #press = (event) => {
    if (event.altKey || event.ctrlKey || event.metaKey) return;
    const onButton = event.target instanceof HTMLButtonElement;
    if (onButton && [" ", "Enter"].includes(event.key)) return;
    if (event.key === "Escape") this.#use("leave");
    else if (event.key.toLowerCase() === "f") this.#use("full");
    else {
      const by = event.key === " " && event.shiftKey ? -1 : KEYS[event.key];
      if (by === undefined) return;
      this.#go(by);
    }
    event.preventDefault();
  };

  /** @param {string} to */
  #use(to) {
    if (to === "leave") this.#room.store.dispatch({ kind: "show", show: "" });
    else if (to === "back") this.#go(-1);
    else if (to === "on") this.#go(1);
    else if (document.fullscreenElement) void document.exitFullscreen();
    else document.documentElement.requestFullscreen().catch(() => undefined);
  }

  /** @param {number} by */
  #go(by) {
    const { store } = this.#room;
    store.dispatch({ kind: "go", step: store.state.step + by });
  }

  #write() {
    if (!this.#open) return;
    const { state } = this.#room.store;
    const { doc, step } = state;
    const own = doc?.steps[step];
    if (!doc || !own) return;
    const fact = factOf(state, step);
    const told = state.told[step];
    const said = told?.report.id === own.id ? told : undefined;
    const count = doc.steps.length;
    const name = fact?.name ?? String(own.step["operation"] ?? "").replaceAll("_", " ");
    setText(this.#name, `${name}: ${own.id}`);
    setText(this.#words, fact ? fact.words : "");
    setText(this.#purpose, fact?.purpose || own.purpose || "");
    setText(this.#progress, `${step + 1} / ${count}`);
    this.#progress.setAttribute("aria-label", `Step ${step + 1} of ${count}`);
    rebuild(this.#warnings, JSON.stringify(said?.report.warnings ?? []), () =>
      (said?.report.warnings ?? []).map(({ message, hint }) =>
        h("p", {}, h("strong", {}, "Warning: "), `${sentence(message)} ${sentence(hint)}`),
      ),
    );
    const rows = this.#room.view.cautions(own.step, said);
    rebuild(this.#cautions, rows.map(({ id }) => id).join(), () => cautionLines(rows));
    for (const [to, off] of /** @type {const} */ ([
      ["back", step === 0],
      ["on", step === count - 1],
    ])) {
      const one = this.#place.querySelector(`[data-slide=${to}]`);
      one?.setAttribute("aria-disabled", String(off));
    }
    this.#draw();
    if (!said) return;
    this.#room.run.ask("caption", [step], (value) => {
      if (Array.isArray(value) && this.#room.store.state.step === step) {
        setText(this.#said, value.join(" "));
      }
    });
  }

  /** Draws the section as large as there is room, and the next one ahead. */
  #draw() {
    const { state } = this.#room.store;
    const step = shownStep(state);
    if (!this.#open || step < 0) return;
    this.#place.classList.toggle("stale", step !== state.step);
    this.#picture(step, (picture, scale) => {
      if (!this.#open || shownStep(this.#room.store.state) !== step) return;
      this.#show(picture, scale);
      this.#place.dataset["step"] = String(step + 1);
      const next = step + 1;
      if (this.#room.store.state.told[next]) this.#picture(next, () => undefined);
    });
  }

  /**
   * @param {number} step
   * @param {(picture: SectionPicture, scale: number) => void} take
   */
  #picture(step, take) {
    const { state } = this.#room.store;
    const told = state.told[step];
    const [wide, high] = [this.#frame.clientWidth, this.#frame.clientHeight];
    if (!told || wide < 40) return;
    const scale = wide < HALL ? 1 : Math.max(LEGIBLE / LETTERS / LARGER, wide / USUAL);
    const width = Math.floor(wide / scale) - (wide < HALL ? 0 : ASIDE);
    const bars = width < 520 ? BARS_NARROW : BARS;
    const height = wide < HALL ? HELD : Math.max(FLATTEST, Math.floor(high / scale) - bars);
    const view = viewOf(state, { width, height });
    const key = `${JSON.stringify(view)} ${state.summary !== null}`;
    const known = this.#pictures.get(told);
    if (known?.key === key) {
      take(known.picture, scale);
      return;
    }
    this.#room.run.ask("slide", [step, view], (value) => {
      if (value === null) return;
      const picture = /** @type {SectionPicture} */ (value);
      this.#pictures.set(told, { key, picture });
      take(picture, scale);
    });
  }

  /**
   * Letters stand in the size in which they are seen, everything else is scaled.
   * @param {SectionPicture} picture
   * @param {number} scale
   */
  #show({ scene: { width, height, shapes } }, scale) {
    const larger = scale === 1 ? 1 : LARGER;
    const aside = scale === 1 ? 0 : ASIDE;
    this.#svg.setAttribute("viewBox", `0 0 ${(width + aside) * scale} ${height * scale}`);
    this.#drawing.setAttribute("transform", `scale(${scale})`);
    drawShapes(
      this.#drawing,
      shapes.filter(({ kind }) => kind !== "text"),
    );
    drawShapes(
      this.#letters,
      shapes.flatMap((shape) =>
        shape.kind === "text"
          ? [
              {
                ...shape,
                at: /** @type {[number, number]} */ ([scale * shape.at[0], scale * shape.at[1]]),
                size: scale * larger * shape.size,
              },
            ]
          : [],
      ),
    );
  }
}

/**
 * The worst caution in full, then the others, with what never to do as long as there is room.
 * @param {readonly Callout[]} rows
 */
function cautionLines(rows) {
  const [worst, ...others] = rows;
  if (!worst) return [];
  const words = [worst.can_happen, ...worst.never, ...others.map(({ never: [rule = ""] }) => rule)];
  const fits = words.join(" ").length + 30 * others.length < MOST_WORDS;
  const groups = fits ? others.map((row) => [row]) : alike(others);
  const rest = groups.map((group) => {
    const [row] = group;
    if (!row) return "";
    const names = group.map(({ short_name: name }) => name).join("; ");
    const rules = fits ? row.never.slice(0, 1).flatMap(never) : [];
    return h("span", {}, signal(row), ` ${names}. `, ...rules);
  });
  return [
    h(
      "p",
      {},
      signal(worst),
      " ",
      h("strong", {}, worst.short_name),
      `: ${sentence(worst.can_happen)} `,
      ...worst.never.flatMap(never),
    ),
    ...(rest.length === 0 ? [] : [h("p", { class: "slide-others" }, ...rest)]),
  ];
}

/**
 * Cautions of one signal word together.
 * @param {readonly Callout[]} rows
 */
function alike(rows) {
  /** @type {Map<string, Callout[]>} */
  const groups = new Map();
  for (const row of rows) {
    groups.set(row.signal_word, [...(groups.get(row.signal_word) ?? []), row]);
  }
  return [...groups.values()];
}

/** @param {string} rule */
function never(rule) {
  return [h("strong", { class: "never-word" }, "Never "), `${rule.replace(/^Never /, "")} `];
}

/**
 * @param {string} to
 * @param {string} label
 * @param {string} text
 */
function button(to, label, text) {
  const plain = /^\p{L}/u.test(text);
  return h(
    "button",
    { type: "button", "data-slide": to, ...(plain ? { title: label } : { "aria-label": label }) },
    text,
  );
}
