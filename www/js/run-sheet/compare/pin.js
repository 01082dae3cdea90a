/** What a person does with two runs: pins one, compares with another, takes it back, lets it go. */

import { alertNow } from "../../announce.js";
import { sentence } from "../../format.js";
import { detailsOf } from "../../lab.js";
import { recall, remember } from "../../storage.js";
import { difference, patched } from "../diff.js";
import { SHIPPED, shipped } from "../shipped.js";
import { isFlowDoc, readFlow } from "../work.js";
import { newPin, shownTwin } from "./state.js";

/** @typedef {import("../types.js").FlowDoc} FlowDoc */
/** @typedef {import("../types.js").State} State */
/** @typedef {import("../engine.js").Kind} Kind */
/** @typedef {import("../view.js").Answers} Answers */
/**
 * @typedef {(kind: Kind, values: unknown[], take: (value: any) => Partial<Answers>) => void} Ask
 * @typedef {{ store: import("../store.js").Store, run: import("../run.js").Run,
 *   say: (text: string) => void, base: () => FlowDoc | null,
 *   edit: (doc: FlowDoc, how: { step: number }) => void }} Page
 */

const KEY = "run-sheet-pin";

/** @param {Page} page */
export function comparison({ store, run, say, base, edit }) {
  /** @type {FlowDoc | null} the shipped flow that the pinned run began with */
  let pinBase = null;

  /**
   * @param {FlowDoc} doc
   * @param {string} name the shipped flow that it began with
   * @param {string} words
   */
  async function pin(doc, name, words) {
    store.dispatch({ kind: "pin", pin: newPin(doc, name, words) });
    run.pin(doc);
    remember(KEY, JSON.stringify({ doc, base: name, words }));
    pinBase = name === "" ? null : await shipped(name).catch(() => null);
  }

  function unpin() {
    if (!store.state.pin) return;
    store.dispatch({ kind: "pin", pin: null });
    run.pin(null);
    remember(KEY, "");
    pinBase = null;
  }

  function pinThisRun() {
    const { doc, base: name } = store.state;
    if (!doc) return;
    void pin(doc, name, wordsOf(doc, base()));
    say("This run is pinned as A. What you change now is B.");
  }

  /** @param {string} name */
  async function compareWith(name) {
    if (name === "") {
      unpin();
      say("The comparison is ended.");
    } else if (name === "file") document.getElementById("compare-file")?.click();
    else if (name !== "pinned") {
      try {
        const doc = await shipped(name);
        await pin(doc, name, wordsOf(doc, doc));
        say(`A is now ${doc.title ?? name}.`);
      } catch (thrown) {
        alertNow(`The flow could not be loaded. ${detailsOf(thrown)}`);
      }
    }
  }

  function takeBack() {
    const { pin: pinned, doc, step } = store.state;
    if (!pinned || !doc) return;
    const id = doc.steps[step]?.id;
    const same = pinned.doc.steps.findIndex((other) => other.id === id);
    edit(pinned.doc, { step: same < 0 ? step : same });
    say("A is the present flow again. Undo brings the other one back.");
  }

  /** @param {HTMLInputElement} input */
  async function file(input) {
    const chosen = input.files?.[0];
    input.value = "";
    if (!chosen) return;
    try {
      const doc = await readFlow(chosen);
      await pin(doc, "", `${doc.title || doc.flow}, from a file`);
      say(`A is now ${chosen.name}.`);
    } catch (thrown) {
      alertNow(sentence(detailsOf(thrown)));
    }
  }

  const select = document.getElementById("compare-with");
  if (select instanceof HTMLSelectElement) fill(select);
  document.addEventListener("change", (event) => {
    const { target } = event;
    if (target instanceof HTMLSelectElement && target.id === "compare-with") {
      void compareWith(target.value);
    } else if (target instanceof HTMLInputElement && target.id === "compare-file") {
      void file(target);
    } else if (target instanceof HTMLInputElement && target.id === "side-by-side") {
      store.dispatch({ kind: "view", view: { both: target.checked } });
    }
  });
  document.addEventListener("keydown", (event) => {
    // By its place on the keyboard: with Alt the letter may be another one.
    if (!event.altKey || event.ctrlKey || event.metaKey || event.code !== "KeyP") return;
    event.preventDefault();
    if (event.shiftKey) unpin();
    else pinThisRun();
  });

  return {
    buttons: {
      "pin-run": pinThisRun,
      "take-back": takeBack,
      unpin: () => {
        unpin();
        say("The pinned run is let go.");
        document.getElementById("pin-run")?.focus();
      },
    },

    /** The shipped flow that the pinned run began with, once it is known. */
    base: () => pinBase,

    unpin,

    /** Hands the pinned run over again, after a breakdown. */
    again() {
      const { pin: pinned } = store.state;
      if (pinned) void pin(pinned.doc, pinned.base, pinned.words);
    },

    /**
     * Pins what a link says, or what was kept here.
     * @param {import("../address.js").Address} address
     * @returns {Promise<string>} what could not be done
     */
    async restore({ flow, pin: link }) {
      const views = store.state.view;
      let notice = "";
      if (flow === "" || link?.kept) {
        const kept = keptPin();
        if (kept) await pin(kept.doc, kept.base, kept.words);
        else if (link) {
          notice = "The link leaves the pinned run out: it was too long. B alone is shown.";
        }
      } else if (!link) unpin();
      else {
        try {
          const name = link.flow || flow;
          const file = await shipped(name);
          const doc = patched(file, link.patch);
          await pin(doc, name, wordsOf(doc, file));
        } catch (thrown) {
          notice = `pin: ${detailsOf(thrown)}; no run is pinned.`;
        }
      }
      const { since, both } = views;
      if (store.state.pin) store.dispatch({ kind: "view", view: { since, both } });
      return notice;
    },

    /**
     * Asks for what of the pinned run stands beside a step.
     * @param {State} state
     * @param {number} step
     * @param {Ask} ask
     */
    stay(state, step, ask) {
      const twin = shownTwin(state, step);
      if (twin === null) return;
      ask("comparedWithPinned", [step, twin], (value) => ({ against: value }));
    },

    /**
     * @param {State} state
     * @param {number} step
     * @param {Ask} ask
     */
    lookAt(state, step, ask) {
      const twin = shownTwin(state, step);
      if (twin === null) return;
      ask("pinnedAt", [twin, state.plumb], (value) => ({ pinnedPlace: value }));
      const { depth } = state;
      if (depth !== null) {
        ask("pinnedAcross", [twin, depth], (value) => ({
          pinnedAcross: value,
        }));
      }
    },
  };
}

/**
 * @param {FlowDoc} doc
 * @param {FlowDoc | null} base
 */
function wordsOf(doc, base) {
  const title = doc.title || doc.flow;
  if (!base) return title;
  return difference(base, doc) ? `${title}, changed` : `${title}, as shipped`;
}

/**
 * The run that was pinned in this browser, or null.
 * @returns {{ doc: FlowDoc, base: string, words: string } | null}
 */
function keptPin() {
  try {
    const kept = JSON.parse(recall(KEY) || "null");
    const known = typeof kept?.base === "string" && typeof kept.words === "string";
    return known && isFlowDoc(kept.doc) ? kept : null;
  } catch {
    return null;
  }
}

/** @param {HTMLSelectElement} select */
function fill(select) {
  select.append(
    new Option("nothing", ""),
    new Option("the pinned run", "pinned"),
    new Option("a file …", "file"),
  );
  const groups = new Map(SHIPPED.map(({ group }) => [group, document.createElement("optgroup")]));
  for (const [name, group] of groups) {
    group.label = name;
    select.append(group);
  }
  for (const { name, title, group } of SHIPPED) groups.get(group)?.append(new Option(title, name));
}
