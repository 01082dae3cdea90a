/**
 * The drawing desk: what is done to the layout of a flow. While something is being moved the page's
 * own instance of the kernel draws it and judges it against the design rules; the flow itself
 * changes, and runs again, only when things have come to rest.
 */

import { alertNow } from "../../announce.js";
import { parseNumber, plain } from "../../format.js";
import * as drawing from "./drawing.js";
import { Draftsman } from "./draftsman.js";
import { dragged } from "./moves.js";
import { figureWords, lineWords, noNumber, refusalWords, ruleWords } from "./words.js";

/** @typedef {import("../types.js").FlowDoc} FlowDoc */
/** @typedef {import("../types.js").State} State */
/** @typedef {import("../types.js").LayoutPicture} LayoutPicture */
/** @typedef {import("./drawing.js").Box} Box */
/** @typedef {import("./drawing.js").Point} Point */
/** @typedef {import("./moves.js").Handle} Handle */
/**
 * @typedef {{ layout: import("../elements/sheet-layout.js").SheetLayout,
 *   levels: import("../elements/sheet-levels.js").SheetLevels,
 *   mask: import("../elements/sheet-mask.js").SheetMask,
 *   line: import("../elements/sheet-line.js").SheetLine }} Elements
 * @typedef {{ edit: (doc: FlowDoc) => void, hide: (hidden: string[]) => void,
 *   say: (text: string) => void }} Page
 */

/** Keys and sliders that rest for so long are done. */
const REST_MS = 350;
/** The coarsest and the finest grid, in µm. */
const GRIDS = /** @type {const} */ ([0.001, 100]);

export class Desk {
  #draftsman;
  #elements;
  #page;
  /** @type {State | null} */
  #state = null;
  /** What is being moved, before the flow has it. */
  /** @type {FlowDoc | null} */
  #draft = null;
  /** Where a drag began. */
  /** @type {FlowDoc | null} */
  #start = null;
  #level = "";
  #figure = -1;
  #grid = 0.1;
  /** @type {Record<string, string>} */
  #errors = {};
  #timer = 0;
  #frame = 0;
  /** What is said when a change is handed over. */
  #words = () => "";

  /**
   * @param {import("../engine.js").Glue} glue
   * @param {Elements} elements
   * @param {Page} page
   */
  constructor(glue, elements, page) {
    this.#draftsman = new Draftsman(glue);
    this.#elements = elements;
    this.#page = page;
  }

  /** @param {State} state */
  follow(state) {
    const before = this.#state;
    this.#state = state;
    if (before && before.doc !== state.doc) {
      // An undo, another flow or a change elsewhere: what was on its way is void.
      this.#drop();
      if (before.opened !== state.opened) this.#level = "";
    }
    this.#wish();
  }

  /**
   * What the last change did to the step in view, to be read beside it.
   * @param {readonly import("../types.js").Difference[] | null} differences
   */
  effect(differences) {
    this.#elements.mask.effect(this.#state?.past.length ? differences : null);
  }

  #wish() {
    if (this.#frame !== 0) return;
    this.#frame = requestAnimationFrame(() => {
      this.#frame = 0;
      this.#render();
    });
  }

  #drop() {
    clearTimeout(this.#timer);
    this.#draft = null;
    this.#start = null;
    this.#errors = {};
  }

  get #doc() {
    return this.#draft ?? this.#state?.doc ?? null;
  }

  /**
   * Has the kernel draw a flow's layout; throws its refusal.
   * @param {FlowDoc} doc
   * @returns {LayoutPicture}
   */
  #draw(doc) {
    return this.#draftsman.draw(doc, this.#state, this.#elements.layout.width);
  }

  #render() {
    const doc = this.#doc;
    const { layout, levels, mask, line } = this.#elements;
    if (!doc || layout.width < 40) return;
    /** @type {LayoutPicture} */
    let drawn;
    try {
      drawn = this.#draw(doc);
    } catch {
      // The flow as a whole is refused too, in words at the top; the last picture stays.
      return;
    }
    const chosen = drawn.levels.find(({ level }) => level === this.#level);
    if (!chosen) this.#level = "";
    const figures = chosen ? drawing.figuresOf(doc, this.#level) : [];
    if (this.#figure >= figures.length) this.#figure = -1;
    const [figure, level] = [this.#figure, this.#level];
    const section = drawing.sectionOf(doc);
    const { extent } = drawing.layoutOf(doc);
    layout.render({ drawn, extent, line: section, level, figures, figure });
    const done = this.#state ? this.#state.step + 1 : 0;
    const hidden = this.#state?.hidden ?? [];
    levels.render({ levels: drawn.levels, done, hidden, chosen: level }, mask);
    const errors = this.#errors;
    line.render({
      line: section,
      grid: this.#grid,
      breaks: drawn.ruleBreaks,
      errors,
    });
    const overlays = chosen ? drawing.overlaysOf(doc, level) : [];
    mask.render(
      chosen
        ? {
            level,
            figures,
            figure,
            overlays,
            usual: drawn.overlay.usual,
            errors,
          }
        : null,
    );
    layout.closest(".masks-zone")?.classList.toggle("wide", chosen !== undefined);
    performance.mark("layout-shown");
  }

  /**
   * Takes a change that is on its way.
   * @param {FlowDoc} doc
   * @param {"held" | "soon" | "now"} when the flow gets it: not yet, after a rest, at once
   * @param {() => string} words
   */
  #take(doc, when, words) {
    clearTimeout(this.#timer);
    if (doc !== this.#doc) this.#draft = doc;
    this.#words = words;
    if (when === "now") this.#hand();
    else if (when === "soon") this.#timer = window.setTimeout(() => this.#hand(), REST_MS);
    this.#wish();
  }

  /** Hands over what was on its way. */
  #hand() {
    const draft = this.#draft;
    const before = this.#state?.doc;
    const text = drawing.drawnText;
    if (!draft || !before || text(draft) === text(before)) {
      this.#drop();
      return;
    }
    const rules = ruleWords(this.#breaks(before), this.#breaks(draft));
    const words = this.#words();
    this.#drop();
    performance.mark("layout-handed");
    this.#page.edit(draft);
    this.#page.say(`${words}${rules}`);
  }

  /** @param {FlowDoc} doc */
  #breaks(doc) {
    try {
      return this.#draw(doc).ruleBreaks.map(({ message }) => message);
    } catch {
      return [];
    }
  }

  /**
   * Takes a change that was typed, unless the kernel refuses it.
   * @param {FlowDoc} doc
   * @param {string} field id of its field
   * @param {string} label
   * @param {() => string} words
   */
  #typed(doc, field, label, words) {
    delete this.#errors[field];
    try {
      this.#draw(doc);
    } catch (thrown) {
      const error = /** @type {import("../types.js").RequestError} */ (thrown);
      this.#refuse(field, refusalWords(label, error));
      return;
    }
    this.#take(doc, "now", words);
  }

  /**
   * @param {string} field
   * @param {string} message
   */
  #refuse(field, message) {
    this.#errors = { ...this.#errors, [field]: message };
    alertNow(message);
    this.#wish();
  }

  /**
   * Reads a length; refuses what is none.
   * @param {string} field
   * @param {string} label
   * @param {unknown} text
   */
  #read(field, label, text) {
    const value = parseNumber(String(text));
    if (value === null) this.#refuse(field, noNumber(label, String(text)));
    return value;
  }

  #lineWords() {
    return this.#doc ? lineWords(this.#doc) : "";
  }

  #figureWords() {
    return this.#doc ? figureWords(this.#doc, this.#level, this.#figure) : "";
  }

  /** @param {Handle} handle */
  #wordsOf(handle) {
    return ["from", "to", "line"].includes(handle)
      ? () => this.#lineWords()
      : () => this.#figureWords();
  }

  /** @param {string} level */
  #choose(level) {
    this.#level = level === this.#level ? "" : level;
    this.#figure = -1;
    this.#errors = {};
    this.#wish();
  }

  /**
   * A rectangle that is new in the chosen level.
   * @param {Box} box
   */
  #add(box) {
    const doc = this.#doc;
    if (!doc || this.#level === "") return;
    const after = drawing.withNew(doc, this.#level, box);
    const figures = drawing.figuresOf(after, this.#level);
    this.#figure = figures.filter(({ kind }) => kind === "rectangle").length - 1;
    this.#take(after, "now", () => `New rectangle. ${this.#figureWords()}`);
  }

  /** What the elements send. */
  /** @type {Readonly<Record<string, (detail: Record<string, unknown>) => void>>} */
  verbs = {
    "layout-resized": () => this.#wish(),
    "level-shown": ({ level, shown }) => {
      const others = (this.#state?.hidden ?? []).filter((one) => one !== level);
      this.#page.hide(shown ? others : [...others, String(level)]);
    },
    "level-chosen": ({ level }) => this.#choose(String(level)),
    "layout-move": ({ handle, by, phase }) => {
      if (phase === "dropped") {
        this.#drop();
        this.#wish();
        return;
      }
      this.#start ??= this.#doc;
      if (!this.#start) return;
      const what = /** @type {Handle} */ (handle);
      const chosen = { level: this.#level, figure: this.#figure };
      const after = dragged(this.#start, chosen, what, /** @type {Point} */ (by), this.#grid);
      this.#take(after, phase === "done" ? "now" : "held", this.#wordsOf(what));
    },
    "layout-steps": ({ handle, by }) => {
      const doc = this.#doc;
      if (!doc) return;
      const what = /** @type {Handle} */ (handle);
      const [dx, dy] = /** @type {Point} */ (by);
      const chosen = { level: this.#level, figure: this.#figure };
      const way = /** @type {const} */ ([dx * this.#grid, dy * this.#grid]);
      this.#take(dragged(doc, chosen, what, way, this.#grid), "soon", this.#wordsOf(what));
    },
    "layout-pick": ({ figure }) => {
      this.#figure = Number(figure);
      this.#errors = {};
      const words = this.#figureWords();
      if (words !== "") this.#page.say(words);
      this.#wish();
    },
    "figure-chosen": ({ figure }) => this.verbs["layout-pick"]?.({ figure }),
    "layout-draw": ({ box }) => {
      this.#add(drawing.snappedBox(/** @type {Box} */ (box), this.#grid));
    },
    "layout-grid": ({ text }) => {
      const value = this.#read("grid", "Grid", text);
      if (value === null) return;
      const [least, most] = GRIDS;
      if (value < least || most < value) {
        this.#refuse("grid", `Grid: ${plain(value)} µm is outside ${least} to ${most} µm.`);
        return;
      }
      delete this.#errors["grid"];
      this.#grid = value;
      this.#wish();
    },
    "line-number": ({ part, text }) => {
      const doc = this.#doc;
      const label = `Section line ${String(part).replace("-", " ")}`;
      const value = this.#read(`line-${part}`, label, text);
      if (!doc || value === null) return;
      const line = drawing.lineWith(doc, String(part), value);
      this.#typed(drawing.withSection(doc, line), `line-${part}`, label, () => this.#lineWords());
    },
    "figure-number": ({ part, text }) => {
      const doc = this.#doc;
      const value = this.#read(`box-${part}`, String(part), text);
      const one = doc && drawing.figuresOf(doc, this.#level)[this.#figure];
      if (!doc || !one || value === null) return;
      const box = drawing.boxWith(one.box, String(part), value);
      this.#typed(
        drawing.withBox(doc, this.#level, this.#figure, box),
        `box-${part}`,
        String(part),
        () => this.#figureWords(),
      );
    },
    "mask-overlay": ({ axis, value, text, phase }) => {
      const doc = this.#doc;
      const field = `overlay-${axis}`;
      const label = `Overlay error ${axis}`;
      const given = text === undefined ? Number(value) : this.#read(field, label, text);
      if (!doc || given === null) return;
      const way = axis === "y" ? "y" : "x";
      const after = drawing.withOverlay(doc, this.#level, way, given);
      const level = this.#level;
      const words = () => `${level} is printed ${plain(given)} µm off its place in ${way}.`;
      if (text !== undefined) this.#typed(after, field, label, words);
      else {
        delete this.#errors[field];
        this.#take(after, phase === "held" ? "soon" : "now", words);
      }
    },
  };

  /** Its buttons by their ids. */
  /** @type {Readonly<Record<string, () => void>>} */
  buttons = {
    "figure-new": () => {
      const doc = this.#doc;
      if (!doc) return;
      this.#add(drawing.middleBox(drawing.layoutOf(doc).extent, this.#grid));
    },
    "figure-copy": () => {
      const doc = this.#doc;
      if (!doc || this.#figure < 0) return;
      const copy = drawing.withCopy(doc, this.#level, this.#figure, 10 * this.#grid);
      this.#figure = copy.figure;
      this.#take(copy.doc, "now", () => `Duplicated. ${this.#figureWords()}`);
    },
    "figure-remove": () => {
      const doc = this.#doc;
      if (!doc || this.#figure < 0) return;
      const [level, gone] = [this.#level, this.#figure];
      this.#figure = -1;
      this.#take(
        drawing.without(doc, level, gone),
        "now",
        () => `Figure ${gone + 1} of ${level} deleted.`,
      );
    },
  };
}
