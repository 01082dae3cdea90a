/** The Run sheet place: verbs of the elements become actions, new states become views. */

import { alertNow, announce, flash } from "../announce.js";
import { parseNumber, sentence } from "../format.js";
import { detailsOf } from "../lab.js";
import { eraseAll } from "../storage.js";
import { applyTheme, onSystemTheme, setTheme } from "../theme.js";
import * as documents from "./document.js";
import { looking } from "./looking.js";
import { opening } from "./opening.js";
import { Pictures } from "./pictures.js";
import { Run } from "./run.js";
import { FIRST, SHIPPED } from "./shipped.js";
import { Store } from "./store.js";
import { tourButtons } from "./tour-offer.js";
import { View, factOf } from "./view.js";
import { forgetWork, readFlow } from "./work.js";

/** @typedef {import("./later.js").Later} Later */
/** @typedef {import("./types.js").State} State */

/** A step of the film. */
const PLAY_MS = 900;
/** The rest of the page waits no longer than this for a first picture. */
const LONGEST_MS = 1000;

/**
 * @param {import("../lab.js").Family} family
 */
export function mount(family) {
  const schema = family.glue.stepSchema();
  const store = new Store();
  const view = new View();
  let playTimer = 0;
  /** What comes after the first picture, once it is there. */
  /** @type {Later | null} */
  let later = null;
  /** @type {Promise<Later | null> | null} */
  let completing = null;
  /** @type {(rest: Later) => void} */
  let tellWhole = () => undefined;
  /** @type {Promise<Later>} */
  const whole = new Promise((resolve) => (tellWhole = resolve));

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
      void complete();
      alertNow(`${sentence(error.message)} ${sentence(error.hint)}`);
    },
    broken: (details) => {
      store.dispatch({ kind: "broken", details });
      void complete();
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
  const { look, render, forget } = looking({
    store,
    run,
    view,
    pictures,
    shown: () => afterPaint(painted),
    later: () => later,
  });
  const flows = opening({
    store,
    run,
    view,
    pictures,
    forget,
    later: () => later,
    whole,
  });

  /** @param {string} text */
  function say(text) {
    announce(text);
    flash(text);
  }

  function painted() {
    run.shown();
    void complete();
  }

  /** Loads the rest of the page; gives null, and says so, if it does not come. */
  function complete() {
    if (!completing) {
      view.list();
      render();
    }
    completing ??= import("./later.js").then(
      (module) => {
        later = module.later({ family, schema, store, run, view, say, flows });
        listenTo(later.verbs);
        Object.assign(buttons, later.buttons);
        void later.details.complete().then(render);
        render();
        tellWhole(later);
        return later;
      },
      (thrown) => {
        const text = `A part of the page could not be loaded. ${detailsOf(thrown)}`;
        store.dispatch({
          kind: "notices",
          notices: [...store.state.notices, text],
        });
        alertNow(text);
        completing = null;
        return null;
      },
    );
    return completing;
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

  /** @type {Verbs} */
  const verbs = {
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
    chart: () => undefined,
    drawn: () => undefined,
  };

  /** @type {Record<string, () => void>} */
  const buttons = {
    ...tourButtons(),
    empty: () => {
      flows.openOwn(documents.emptyWafer());
      say("An empty wafer: insert its steps.");
    },
    "open-file": () => document.getElementById("file")?.click(),
    erase: () => {
      later?.compare.unpin();
      eraseAll();
      forgetWork();
      applyTheme();
      void flows.openShipped(FIRST, null);
      say("Everything stored in this browser by this page is erased.");
    },
    restart: () => {
      run.restart();
      flows.again();
      later?.compare.again();
    },
  };

  listenTo(verbs);
  document.addEventListener("click", async (event) => {
    const button = event.target instanceof Element ? event.target.closest("button") : null;
    if (!button || button.id === "" || button.getAttribute("aria-disabled") === "true") return;
    if (!buttons[button.id] && !later) await complete();
    buttons[button.id]?.();
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
  const select = document.getElementById("flow");
  if (select instanceof HTMLSelectElement) fillFlows(select);
  select?.addEventListener("change", () => {
    if (select instanceof HTMLSelectElement && select.value !== "") {
      void flows.openShipped(select.value, null);
    }
  });
  document.getElementById("file")?.addEventListener("change", (event) => {
    const input = event.target;
    const file = input instanceof HTMLInputElement ? input.files?.[0] : null;
    if (!file || !(input instanceof HTMLInputElement)) return;
    readFlow(file)
      .then((doc) => {
        flows.openOwn(doc);
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
    later?.follow(state, before);
    if (state.show !== "") void complete();
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
      flows.rest();
    }
    const onlyStep = state.step !== before.step && state.told === before.told;
    if (onlyStep && state.doc === before.doc && state.refusal === null) {
      view.step(state);
      later?.details.step(state);
    } else render();
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

  document.getElementById("theme")?.addEventListener("change", (event) => {
    if (event.target instanceof HTMLSelectElement) setTheme(event.target.value);
    later?.details.refresh();
  });
  onSystemTheme(() => {
    applyTheme();
    later?.details.refresh();
  });
  document.querySelector(".skip")?.addEventListener("click", (event) => {
    // The fragment holds the state, so the link must not change it.
    event.preventDefault();
    document.getElementById("section-name")?.focus();
  });
  void flows.restore();
  window.setTimeout(() => void complete(), LONGEST_MS);
}

/** @typedef {Readonly<Record<string, (detail: Record<string, unknown>) => void>>} Verbs */

/**
 * Carries out what the elements send.
 * @param {Verbs} verbs
 */
function listenTo(verbs) {
  for (const [verb, act] of Object.entries(verbs)) {
    document.addEventListener(`lab:${verb}`, (event) => {
      const detail = event instanceof CustomEvent ? event.detail : null;
      act(typeof detail === "object" && detail !== null ? detail : {});
    });
  }
}

/** @param {() => void} act */
function afterPaint(act) {
  requestAnimationFrame(() => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = () => {
      port1.close();
      act();
    };
    port2.postMessage(null);
  });
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
