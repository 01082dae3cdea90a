/** The Run sheet place: verbs of the elements become actions, new states become views. */

import { alertNow, announce, flash } from "../announce.js";
import { parseNumber, sentence } from "../format.js";
import { detailsOf } from "../lab.js";
import { eraseAll } from "../storage.js";
import { applyTheme, onSystemTheme, setTheme } from "../theme.js";
import { WHOLE, readAddress, shown as named, writeAddress } from "./address.js";
import { leavesPinOut } from "./compare/link.js";
import { comparison } from "./compare/pin.js";
import { patched } from "./diff.js";
import * as documents from "./document.js";
import { editing } from "./editing.js";
import { Desk } from "./layout/desk.js";
import { looking } from "./looking.js";
import { Pictures } from "./pictures.js";
import { presenting } from "./presenting.js";
import { Run } from "./run.js";
import { linkSafetySheet } from "./safety-link.js";
import { saving } from "./saving.js";
import { FIRST, NAMES, SHIPPED, shipped } from "./shipped.js";
import { Store } from "./store.js";
import { tourButtons } from "./tour-offer.js";
import { View, factOf } from "./view.js";
import { forgetWork, keepWork, keptWork, readFlow } from "./work.js";

/** @typedef {import("./types.js").FlowDoc} FlowDoc */
/** @typedef {import("./types.js").State} State */

/** The address and the kept work follow when things have come to rest. */
const REST_MS = 400;
/** A step of the film. */
const PLAY_MS = 900;
/**
 * @param {import("../lab.js").Family} family
 */
export function mount(family) {
  const schema = family.glue.stepSchema();
  const store = new Store();
  const view = new View(schema);
  let restTimer = 0;
  let playTimer = 0;
  let written = "";
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
  const edits = editing({ store, schema, say });
  const { copied, saveFlow, saveFigure } = saving({ store, view, say });
  const desk = new Desk(family.glue, view.masks, {
    edit: (doc) => edits.edit(doc),
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

  const compare = comparison({ store, run, say, base: () => base, edit: edits.edit });
  const { look, render, forget } = looking({ store, run, view, pictures, desk, compare });

  /** @param {string} text */
  function say(text) {
    announce(text);
    flash(text);
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
    forget();
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
    unread: ({ path, message }) => {
      store.dispatch({ kind: "unread", path: String(path), message: String(message) });
      alertNow(String(message));
    },
    ...edits.verbs,
    chart: () => undefined,
    save: ({ format }) => void saveFigure(String(format)),
    drawn: () => undefined,
  };

  /** @type {Readonly<Record<string, () => void>>} */
  const buttons = {
    ...desk.buttons,
    ...present.buttons,
    ...compare.buttons,
    ...tourButtons(),
    ...edits.buttons,
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
