/** The Run sheet place: verbs of the elements become actions, new states become views. */

import { alertNow, announce, flash } from "../announce.js";
import { parseNumber, sentence } from "../format.js";
import { detailsOf } from "../lab.js";
import { copy, download, saveChart } from "../save.js";
import { eraseAll } from "../storage.js";
import { applyTheme, onSystemTheme, setTheme } from "../theme.js";
import { WHOLE, readAddress, shown as named, writeAddress } from "./address.js";
import { leavesPinOut } from "./compare/link.js";
import { comparison } from "./compare/pin.js";
import { shownTwin } from "./compare/state.js";
import { patched } from "./diff.js";
import * as documents from "./document.js";
import { fieldsOf, rivalsOf, valueOf } from "./fields.js";
import { Desk } from "./layout/desk.js";
import { listVerbs } from "./list-verbs.js";
import { Pictures } from "./pictures.js";
import { presenting } from "./presenting.js";
import { Run } from "./run.js";
import { linkSafetySheet } from "./safety-link.js";
import { FIRST, NAMES, SHIPPED, shipped } from "./shipped.js";
import { Store, shownStep } from "./store.js";
import { tourButtons } from "./tour-offer.js";
import { View, factOf } from "./view.js";
import { flowText, forgetWork, keepWork, keptWork, readFlow } from "./work.js";

/** @typedef {import("./types.js").FlowDoc} FlowDoc */
/** @typedef {import("./types.js").State} State */

/** The address and the kept work follow when things have come to rest. */
const REST_MS = 400;
/** Who stays at a step for so long wants to know all of it. */
const STAY_MS = 90;
/** A step of the film. */
const PLAY_MS = 900;
/** Moves of a slider that come after each other sooner than this are one change. */
const JOIN_MS = 1000;
const UNLOADED = {
  place: null,
  across: null,
  sentences: /** @type {string[]} */ ([]),
  changed: null,
  earlier: null,
  before: null,
  against: null,
  pinnedPlace: null,
  pinnedAcross: null,
};

/**
 * @param {import("../lab.js").Family} family
 */
export function mount(family) {
  const schema = family.glue.stepSchema();
  const store = new Store();
  const view = new View(schema);
  /** @type {import("./view.js").Answers} */
  let answers = { ...UNLOADED };
  let restTimer = 0;
  let playTimer = 0;
  let stayTimer = 0;
  let written = "";
  let lastSet = { path: "", step: -1, at: 0 };
  /** @type {FlowDoc | null} */
  let base = null;
  let wished = 0;

  const run = new Run(family, {
    loaded: (facts) => store.dispatch({ kind: "loaded", facts }),
    step: (told, picture) => {
      if (picture) pictures.keep(store.state, view.section.size, told, picture);
      store.dispatch({ kind: "told", told });
      performance.mark("step-told");
    },
    done: (summary) => {
      store.dispatch({ kind: "done", summary });
      performance.mark("flow-done");
    },
    refused: (step, error) => {
      store.dispatch({ kind: "refused", step, error });
      alertNow(`${sentence(error.message)} ${sentence(error.hint)}`);
    },
    broken: (details) => {
      store.dispatch({ kind: "broken", details });
      alertNow("The computation broke down. Your flow is kept.");
    },
    pinned: (part) => store.dispatch({ kind: "pinned", part }),
    pinnedStep: (told) => {
      const known = store.state.pin?.told ?? [];
      store.dispatch({
        kind: "pinned",
        part: { told: [...known.slice(0, told.step), told] },
      });
    },
  });
  const pictures = new Pictures(run);
  const desk = new Desk(family.glue, view.masks, {
    edit: (doc) => edit(doc),
    hide: (hidden) => store.dispatch({ kind: "hide", hidden }),
    say,
  });
  const present = presenting({
    store,
    run,
    view,
    say,
    address: () => writeAddress(store.state, base),
  });

  const compare = comparison({ store, run, say, base: () => base, edit });

  /** @param {string} text */
  function say(text) {
    announce(text);
    flash(text);
  }

  /**
   * What is in view, drawn and asked anew where it changed.
   * @param {State} state
   * @param {State} before
   */
  function look(state, before) {
    const step = shownStep(state);
    const told = state.told[step];
    if (step < 0 || !told) return;
    pictures.section(state, view.section.size, (picture, shown) => {
      view.section.show(picture, shown);
      performance.mark("section-shown");
    });
    if (state.pin && state.view.both) {
      pictures.pinned(state, view.section.size, (picture) => view.compare.pinned.show(picture));
    }
    const twin = shownTwin(state, step);
    const pinned = twin !== null && shownTwin(before, shownStep(before)) === null;
    if (state.pin?.doc !== before.pin?.doc || !state.pin) {
      answers = {
        ...answers,
        against: null,
        pinnedPlace: null,
        pinnedAcross: null,
      };
    }
    const other = told !== before.told[shownStep(before)] || pinned;
    if (other || state.facts !== before.facts) stay();
    else if (state.plumb !== before.plumb || state.depth !== before.depth) lookAt(state, step);
  }

  /** Asks for the rest of a step once somebody stays at it. */
  function stay() {
    clearTimeout(stayTimer);
    stayTimer = window.setTimeout(() => {
      const { state } = store;
      const step = shownStep(state);
      if (step < 0) return;
      lookAt(state, step);
      ask("sentences", [step], (value) => ({ sentences: value ?? [] }));
      if (step > 0) ask("compared", [step, step - 1], (value) => ({ changed: value }));
      else answers = { ...answers, changed: null };
      ask("earlier", [step], (value) => ({ earlier: value }));
      void view.complete().then(render);
      compare.stay(state, step, ask);
      render();
    }, STAY_MS);
  }

  /**
   * @param {State} state
   * @param {number} step
   */
  function lookAt(state, step) {
    ask("at", [step, state.plumb], (value) => ({ place: value ?? answers.place }));
    if (step > 0)
      ask("before", [step - 1, state.plumb], (value) => ({
        before: value && { step, place: value },
      }));
    else answers = { ...answers, before: null };
    compare.lookAt(state, step, ask);
    const { depth } = state;
    if (depth !== null) ask("across", [step, depth], (value) => ({ across: value }));
  }

  /**
   * @param {import("./engine.js").Kind} kind
   * @param {unknown[]} values
   * @param {(value: any) => Partial<import("./view.js").Answers>} take
   */
  function ask(kind, values, take) {
    run.ask(kind, values, (value) => {
      answers = { ...answers, ...take(value) };
      render();
    });
  }

  let frame = 0;
  function render() {
    if (frame !== 0) return;
    frame = requestAnimationFrame(() => {
      frame = 0;
      view.render(store.state, answers);
      desk.effect(answers.earlier);
    });
  }

  function rest() {
    clearTimeout(restTimer);
    restTimer = window.setTimeout(() => {
      const { state } = store;
      if (state.work && !present.embedded) keepWork(state);
      written = writeAddress(state, base, compare.base()) ?? "";
      const here = location.pathname + location.search;
      history.replaceState(null, "", written === "" ? here : written);
    }, REST_MS);
  }

  /**
   * @param {FlowDoc} doc
   * @param {Partial<Extract<import("./store.js").Action, { kind: "open" }>>} [place]
   */
  function open(doc, place = {}) {
    answers = { ...UNLOADED };
    store.dispatch({
      kind: "open",
      doc,
      base: "",
      step: 0,
      plumb: null,
      depth: null,
      // A run stays pinned, and is looked at as before.
      view: {
        ...WHOLE,
        since: store.state.view.since,
        both: store.state.view.both,
      },
      hidden: [],
      notices: [],
      work: false,
      ...place,
    });
    view.section.measure();
    run.flow(doc, pictures.wish(store.state, view.section.size));
    const select = document.getElementById("flow");
    if (select instanceof HTMLSelectElement) select.value = store.state.base;
    rest();
  }

  /** Opens what the address says, or else the kept work, or else the first flow. */
  async function restore() {
    const fragment = location.hash;
    written = fragment;
    const address = readAddress(fragment, NAMES);
    const kept = present.embedded ? null : keptWork();
    if (address.flow === "" && kept) {
      const { notices } = address;
      base = kept.base === "" ? null : await shipped(kept.base);
      open(kept.doc, {
        ...kept,
        view: { ...WHOLE, ...kept.view },
        notices,
        work: true,
      });
    } else await openShipped(address.flow || FIRST, address);
    const notice = await compare.restore(address);
    if (notice !== "") {
      store.dispatch({
        kind: "notices",
        notices: [...store.state.notices, notice],
      });
    }
  }

  /**
   * @param {string} name
   * @param {import("./address.js").Address | null} address
   */
  async function openShipped(name, address) {
    wished += 1;
    const wish = wished;
    const file = await shipped(name).catch((thrown) => {
      alertNow(`The flow could not be loaded. ${detailsOf(thrown)}`);
      store.dispatch({ kind: "notices", notices: [`The flow could not be loaded. ${thrown}`] });
      return null;
    });
    if (!file || wish !== wished) return;
    base = file;
    const notices = [...(address?.notices ?? [])];
    let doc = file;
    if (address?.patch) {
      try {
        doc = patched(file, address.patch);
      } catch (thrown) {
        notices.push(`edit: ${detailsOf(thrown)}; the shipped flow is shown.`);
      }
    }
    const asked = address?.step ?? "";
    const byId = doc.steps.findIndex(({ id }) => id === asked);
    if (asked !== "" && byId < 0) notices.push(`step: this flow has no step of that name.`);
    const levels = documents.levelsOf(doc);
    const hidden = address?.hidden ?? [];
    for (const level of hidden.filter((one) => !levels.includes(one))) {
      notices.push(`hide: this flow has no mask level ${named(level)}.`);
    }
    open(doc, {
      base: name,
      step: Math.max(0, byId),
      plumb: address?.plumb ?? null,
      depth: address?.depth ?? null,
      hidden: hidden.filter((level) => levels.includes(level)),
      show: address?.show ?? "",
      notices,
      ...(address ? { view: address.view } : {}),
    });
  }

  /**
   * @param {FlowDoc} doc
   * @param {{ step?: number, joins?: boolean }} [how]
   */
  function edit(doc, { step = store.state.step, joins = false } = {}) {
    if (doc === store.state.doc) return;
    store.dispatch({ kind: "edit", doc, step, joins });
  }

  /** @param {(doc: FlowDoc, step: number) => { doc: FlowDoc, step: number, said: string }} change */
  function change(change) {
    const { doc, step } = store.state;
    if (!doc) return;
    const after = change(doc, step);
    if (after.doc === doc) return;
    edit(after.doc, { step: after.step });
    say(after.said);
  }

  /**
   * @param {string} path
   * @param {unknown} given
   */
  function set(path, given) {
    const { doc, step } = store.state;
    if (!doc) return;
    const operation = String(doc.steps[step]?.step["operation"] ?? "");
    const known = fieldsOf(schema, doc, step).find((field) => field.path === path);
    let after = documents.setField(doc, step, path, valueOf(known, given));
    for (const rival of rivalsOf(operation, path)) {
      after = documents.setField(after, step, rival, undefined);
    }
    const now = performance.now();
    const joins = lastSet.path === path && lastSet.step === step && now - lastSet.at < JOIN_MS;
    lastSet = { path, step, at: now };
    performance.mark("field-set");
    edit(after, { joins });
  }

  function play() {
    clearTimeout(playTimer);
    const { playing, step, doc } = store.state;
    if (!playing || !doc) return;
    if (step >= doc.steps.length - 1) {
      store.dispatch({ kind: "play", playing: false });
      return;
    }
    playTimer = window.setTimeout(() => {
      if (!store.state.playing) return;
      store.dispatch({ kind: "go", step: store.state.step + 1 });
      play();
    }, PLAY_MS);
  }

  /**
   * @param {string} text
   * @param {boolean} alone whether the pinned run was too long for it
   */
  async function copied(text, alone) {
    if (await copy(text)) {
      say(
        alone
          ? "Link copied without the pinned run, which is too long for a link: save that one as a file."
          : "Link copied: it opens this view.",
      );
      return;
    }
    const field = document.getElementById("link-text");
    if (!(field instanceof HTMLInputElement)) return;
    field.hidden = false;
    field.value = text;
    field.select();
    say("The browser refused the clipboard: copy the selected text.");
  }

  function saveFlow() {
    const { doc } = store.state;
    if (!doc) return;
    const name = `${doc.flow.replace(/[^\w.-]+/g, "-").slice(0, 60) || "flow"}.json`;
    download(new Blob([flowText(doc)], { type: "application/json" }), name);
    say(`Saved ${name}`);
  }

  /** @type {Readonly<Record<string, (detail: Record<string, unknown>) => void>>} */
  const verbs = {
    ...desk.verbs,
    go: ({ step, by }) => {
      const wanted = by === undefined ? Number(step) : store.state.step + Number(by);
      performance.mark("step-wished");
      store.dispatch({ kind: "go", step: wanted });
    },
    play: () => {
      const { playing, step, doc } = store.state;
      if (!playing && doc && step >= doc.steps.length - 1) store.dispatch({ kind: "go", step: 0 });
      store.dispatch({ kind: "play", playing: !playing });
      play();
    },
    view: (detail) => store.dispatch({ kind: "view", view: detail }),
    plumb: ({ x, text }) => {
      const value = text === undefined ? Number(x) : parseNumber(String(text));
      if (value === null || !Number.isFinite(value)) {
        alertNow("The plumb line needs a number in µm.");
        return;
      }
      store.dispatch({ kind: "plumb", x: value });
    },
    depth: ({ text }) => {
      const value = parseNumber(String(text));
      if (String(text).trim() === "") store.dispatch({ kind: "depth", depth: null });
      else if (value === null || value < 0) alertNow("The depth needs a number in µm, 0 or more.");
      else store.dispatch({ kind: "depth", depth: value });
    },
    resized: () => {
      const { state } = store;
      look(state, { ...state, plumb: NaN, facts: null });
    },
    "set-field": ({ path, value }) => set(String(path), value),
    "leave-out": ({ path }) => set(String(path), undefined),
    ...listVerbs({ store, schema, edit, say, set }),
    unread: ({ path, message }) => {
      store.dispatch({ kind: "unread", path: String(path), message: String(message) });
      alertNow(String(message));
    },
    note: ({ text }) => {
      const { doc, step } = store.state;
      if (doc) edit(documents.setText(doc, step, "note", String(text)));
    },
    move: ({ from, to }) => moveStep(Number(from), Number(to)),
    chart: () => undefined,
    save: ({ format }) => void saveFigure(String(format)),
    drawn: () => undefined,
  };

  /**
   * @param {number} from
   * @param {number} to
   */
  function moveStep(from, to) {
    change((doc) => ({
      doc: documents.move(doc, from, to),
      step: to,
      said: `Step ${from + 1} is now step ${to + 1}.`,
    }));
  }

  /** @param {string} format */
  async function saveFigure(format) {
    const { chart, ghost } = view.shownChart();
    const { doc, step } = store.state;
    if (!chart || !doc || !["csv", "svg", "png"].includes(format)) return;
    const name = `${doc.flow}-${doc.steps[step]?.id ?? step + 1}`;
    try {
      const file = await saveChart(/** @type {"csv"} */ (format), chart, ghost, name);
      say(`Saved ${file}`);
    } catch (thrown) {
      alertNow(`The file could not be made. ${detailsOf(thrown)}`);
    }
  }

  /** @type {Readonly<Record<string, () => void>>} */
  const buttons = {
    ...desk.buttons,
    ...present.buttons,
    ...compare.buttons,
    ...tourButtons(),
    undo: () => store.dispatch({ kind: "undo" }),
    redo: () => store.dispatch({ kind: "redo" }),
    duplicate: () =>
      change((doc, step) => ({
        doc: documents.duplicate(doc, step),
        step: step + 1,
        said: `Step ${step + 1} duplicated.`,
      })),
    remove: () =>
      change((doc, step) => ({
        doc: documents.remove(doc, step),
        step,
        said: `Step ${step + 1} deleted.`,
      })),
    "move-up": () => moveStep(store.state.step, store.state.step - 1),
    "move-down": () => moveStep(store.state.step, store.state.step + 1),
    insert: () => {
      const select = document.getElementById("insert-operation");
      if (!(select instanceof HTMLSelectElement)) return;
      change((doc, step) => ({
        doc: documents.insert(doc, step, select.value),
        step: step + 1,
        said: `Step ${step + 2} is new.`,
      }));
    },
    empty: () => {
      base = null;
      open(documents.emptyWafer(), { work: true });
      say("An empty wafer: insert its steps.");
    },
    "open-file": () => document.getElementById("file")?.click(),
    "save-file": saveFlow,
    "copy-link": () => {
      const address = writeAddress(store.state, base, compare.base());
      if (address === null) {
        say("This flow is too long for a link: it is saved as a file instead.");
        saveFlow();
        return;
      }
      written = address;
      history.replaceState(null, "", address);
      void copied(location.href, leavesPinOut(address));
    },
    erase: () => {
      compare.unpin();
      eraseAll();
      forgetWork();
      applyTheme();
      void openShipped(FIRST, null);
      say("Everything stored in this browser by this page is erased.");
    },
    restart: () => {
      const { doc, base: name, step, plumb, depth, view: shown, hidden, work } = store.state;
      run.restart();
      if (doc) open(doc, { base: name, step, plumb, depth, view: shown, hidden, work });
      compare.again();
    },
  };

  for (const [verb, act] of Object.entries(verbs)) {
    document.addEventListener(`lab:${verb}`, (event) => {
      const detail = event instanceof CustomEvent ? event.detail : null;
      act(typeof detail === "object" && detail !== null ? detail : {});
    });
  }
  document.addEventListener("click", (event) => {
    const button = event.target instanceof Element ? event.target.closest("button") : null;
    if (button && button.getAttribute("aria-disabled") !== "true") buttons[button.id]?.();
  });
  document.addEventListener("keydown", (event) => {
    const field =
      event.target instanceof Element && event.target.closest("input, select, textarea");
    if (event.ctrlKey || event.metaKey) {
      const key = event.key.toLowerCase();
      if (field instanceof HTMLInputElement && field.type === "text") return;
      if (field instanceof HTMLTextAreaElement || !["z", "y"].includes(key)) return;
      event.preventDefault();
      store.dispatch({ kind: key === "y" || event.shiftKey ? "redo" : "undo" });
      return;
    }
    if (field || event.altKey || event.shiftKey || store.state.show !== "") return;
    const by = { ArrowRight: 1, ArrowLeft: -1 }[event.key];
    if (by === undefined) return;
    // Where something scrolls sideways the keys are its own.
    if (event.target instanceof Element && event.target.closest(".table-region, .tables")) return;
    event.preventDefault();
    verbs["go"]?.({ by });
  });
  const flows = document.getElementById("flow");
  if (flows instanceof HTMLSelectElement) fillFlows(flows);
  linkSafetySheet(store);
  flows?.addEventListener("change", () => {
    if (flows instanceof HTMLSelectElement && flows.value !== "") {
      void openShipped(flows.value, null);
    }
  });
  document.getElementById("file")?.addEventListener("change", (event) => {
    const input = event.target;
    const file = input instanceof HTMLInputElement ? input.files?.[0] : null;
    if (!file || !(input instanceof HTMLInputElement)) return;
    readFlow(file)
      .then((doc) => {
        base = null;
        open(doc, { work: true });
        say(`Opened ${file.name}`);
      })
      .catch((thrown) => {
        const text = thrown instanceof Error ? thrown.message : String(thrown);
        store.dispatch({ kind: "notices", notices: [sentence(text)] });
        alertNow(text);
      });
    input.value = "";
  });

  store.subscribe((state, before) => {
    // An opened flow is handed over by `open`, a changed one here.
    if (state.doc && state.doc !== before.doc && state.opened === before.opened) {
      run.flow(state.doc, pictures.wish(state, view.section.size), state.told.length);
    }
    look(state, before);
    desk.follow(state);
    present.follow(state, before);
    if (state.step !== before.step || (state.doc !== before.doc && before.doc)) tell(state);
    if (
      state.doc !== before.doc ||
      state.step !== before.step ||
      state.plumb !== before.plumb ||
      state.depth !== before.depth ||
      state.view !== before.view ||
      state.hidden !== before.hidden ||
      state.show !== before.show ||
      state.pin?.doc !== before.pin?.doc
    ) {
      rest();
    }
    const onlyStep = state.step !== before.step && state.told === before.told;
    if (onlyStep && state.doc === before.doc && state.refusal === null) view.step(state);
    else render();
  });

  /** @param {State} state */
  function tell(state) {
    const fact = factOf(state, state.step);
    const count = state.doc?.steps.length ?? 0;
    const warnings = state.told[state.step]?.report.warnings.length ?? 0;
    const warned = warnings === 0 ? "" : ` ${warnings} ${warnings === 1 ? "warning" : "warnings"}.`;
    if (fact && !state.playing) {
      announce(
        `Step ${state.step + 1} of ${count}, ${fact.name}: ${fact.id}. ${fact.words}.${warned}`,
      );
    }
  }

  window.addEventListener("hashchange", () => {
    if (location.hash !== written) void restore();
  });
  document.getElementById("theme")?.addEventListener("change", (event) => {
    if (event.target instanceof HTMLSelectElement) setTheme(event.target.value);
    view.refresh();
  });
  onSystemTheme(() => {
    applyTheme();
    view.refresh();
  });
  document.querySelector(".skip")?.addEventListener("click", (event) => {
    // The fragment holds the state, so the link must not change it.
    event.preventDefault();
    document.getElementById("section-name")?.focus();
  });
  void restore();
}

/** @param {HTMLSelectElement} select */
function fillFlows(select) {
  const groups = new Map(SHIPPED.map(({ group }) => [group, document.createElement("optgroup")]));
  select.append(new Option("a flow of my own", ""));
  for (const [name, group] of groups) {
    group.label = name;
    select.append(group);
  }
  for (const { name, title, group } of SHIPPED) groups.get(group)?.append(new Option(title, name));
  const operations = document.getElementById("insert-operation");
  if (!(operations instanceof HTMLSelectElement)) return;
  for (const operation of documents.OPERATIONS) {
    const words = operation.replaceAll("_", " ");
    operations.append(new Option(words.charAt(0).toUpperCase() + words.slice(1), operation));
  }
}
