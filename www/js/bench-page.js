/** The Benches place: verbs of the elements become actions, new states become views. */

import { alertNow, announce, flash } from "./announce.js";
import { benchIn, readAddress, writeAddress } from "./address.js";
import { benchOf } from "./benches.js";
import { Exercises } from "./exercises.js";
import { formOf } from "./forms.js";
import { Kernel } from "./kernel.js";
import { PRESETS } from "./presets.js";
import { printSheet } from "./print.js";
import { readingOf } from "./readings.js";
import { buildRequest } from "./request.js";
import { copy, offer, saveChart, savePicture } from "./save.js";
import { detailsOf, schema } from "./lab.js";
import { describe } from "./schema.js";
import { eraseAll } from "./storage.js";
import { Store, exerciseOf, firstState, isHidden, settingsOf } from "./store.js";
import { fileName } from "./table.js";
import { onSystemTheme, applyTheme, setTheme } from "./theme.js";
import { View } from "./view.js";

/** A run longer than this is said to be computing, and can be stopped. */
const SLOW_MS = 300;
/** The address follows when the settings have come to rest. */
const REST_MS = 400;

/** Where the column of the picture is too narrow for letters beside it. */
const NARROW = "(max-width: 38rem), (min-width: 62rem) and (max-width: 79.99rem)";

/**
 * Mounts the benches, once the part of the kernel for the one in the address is in use.
 * @param {import("./family-loader.js").FamilyLoader} loader
 */
export function mount(loader) {
  const store = new Store(firstState());
  const view = new View();
  const narrow = matchMedia(NARROW);
  let slowTimer = 0;
  let addressTimer = 0;
  let written = "";
  let inputAt = 0;
  /** @type {import("./types.js").Json | null} */
  let answered = null;

  const kernel = new Kernel({
    done: (request, answer) => {
      settle();
      const operation = String(request["operation"]);
      if (operation === store.state.operation) answered = landed(request, answer);
      store.dispatch({ kind: "answered", operation, answer });
      restAddress();
      if (isHidden(store.state)) return;
      announce(readingOf(store.state.operation, answer.report.results).spokenSummary);
    },
    progress: (request, answer, flown) => {
      settle();
      const operation = String(request["operation"]);
      if (operation === store.state.operation) answered = landed(request, answer);
      store.dispatch({ kind: "progress", operation, answer, flown });
    },
    refused: (request, error) => {
      settle();
      store.dispatch({ kind: "refused", operation: String(request["operation"]), error });
      alertNow(error.message);
    },
    broken: (details) => {
      settle();
      store.dispatch({ kind: "broken", details });
      alertNow("The computation broke down. Your settings are kept.");
    },
  });
  const exercises = new Exercises(store);

  /**
   * The request that gives the picture in view: of single ions, with those that have flown.
   * @param {import("./types.js").Json} request
   * @param {import("./types.js").Answer} answer
   */
  function landed(request, answer) {
    const done = answer.report.results["ions_done"];
    return typeof done === "number" && done > 0 ? { ...request, ions: done } : request;
  }

  function settle() {
    clearTimeout(slowTimer);
    view.slow = false;
  }

  function run() {
    const { operation } = store.state;
    const settings = settingsOf(store.state);
    const known = (/** @type {string} */ path) =>
      formOf(operation).texts?.[path] !== undefined ||
      describe(schema(), operation, path, settings) !== null;
    clearTimeout(slowTimer);
    slowTimer = window.setTimeout(() => {
      view.slow = true;
      store.dispatch({ kind: "computing" });
    }, SLOW_MS);
    kernel.run(buildRequest(operation, settings, known), narrow.matches);
  }

  function address() {
    const { bench, operation } = store.state;
    const open = exerciseOf(store.state);
    const exercise = open ? { id: open.id, set: open.set } : null;
    return writeAddress({ bench, operation, settings: settingsOf(store.state), exercise });
  }

  function restAddress() {
    clearTimeout(addressTimer);
    addressTimer = window.setTimeout(() => {
      written = address();
      history.replaceState(null, "", written);
    }, REST_MS);
  }

  async function restore() {
    const fragment = location.hash;
    if (!(await loader.need(benchIn(fragment).family))) return;
    const place = readAddress(fragment, schema());
    written = fragment;
    store.dispatch({ kind: "place", ...place });
    const open = exerciseOf(store.state);
    if (place.exercise === "") store.dispatch({ kind: "exercise", exercise: null });
    else if (open?.id !== place.exercise || open.set !== place.set) exercises.open(place.set);
    run();
  }

  /** @param {string} text */
  function say(text) {
    announce(text);
    flash(text);
  }

  /**
   * @param {string} text
   * @param {string} done
   */
  async function copied(text, done) {
    if (await copy(text)) {
      say(done);
      return;
    }
    offer(text);
    say("The browser refused the clipboard: copy the selected text.");
  }

  /** @type {Readonly<Record<string, (detail: Record<string, unknown>) => void>>} */
  const verbs = {
    go: async ({ bench }) => {
      const there = benchOf(String(bench));
      // The bench in view stays until the other one can be shown.
      if (!(await loader.need(there.family))) return;
      const operations = there.operations;
      const last = operations.find((o) => o === store.state.operation) ?? operations[0] ?? "";
      store.dispatch({ kind: "go", bench: there.id, operation: last });
      clearTimeout(addressTimer);
      written = address();
      history.pushState(null, "", written);
      run();
    },
    operation: ({ operation }) => {
      store.dispatch({ kind: "go", bench: store.state.bench, operation: String(operation) });
      run();
      restAddress();
      // The form of the other operation is new markup: the focus goes to its twin.
      const twin = document.querySelector("input[data-mode=operation]:checked");
      if (twin instanceof HTMLInputElement) twin.focus();
    },
    "set-field": ({ path, value }) => {
      // The oldest input that has not been painted yet is the one that waits longest.
      if (inputAt === 0) {
        inputAt = performance.now();
        performance.mark("input");
      }
      const kept = typeof value === "number" ? value : String(value);
      store.dispatch({ kind: "set", path: String(path), value: kept });
      run();
    },
    unread: ({ path, message }) => {
      store.dispatch({ kind: "unread", path: String(path), message: String(message) });
      alertNow(String(message));
    },
    preset: ({ index }) => {
      const preset = PRESETS[store.state.operation]?.[Number(index)];
      if (!preset) return;
      store.dispatch({ kind: "preset", settings: preset.settings });
      run();
    },
    reset: () => {
      store.dispatch({ kind: "preset", settings: {} });
      run();
    },
    chart: ({ id }) => store.dispatch({ kind: "chart", id: String(id) }),
    pin: () => {
      store.dispatch({ kind: "pin", name: view.pinName(store.state) });
      say("Pinned: this curve stays as a ghost.");
    },
    unpin: () => store.dispatch({ kind: "unpin" }),
    save: ({ format }) => void save(String(format)),
    drawn: () => {
      if (inputAt === 0) return;
      const from = inputAt;
      inputAt = 0;
      // A task that is queued while a frame is being made runs once that frame is painted.
      requestAnimationFrame(() => {
        const { port1, port2 } = new MessageChannel();
        port1.onmessage = () => {
          performance.measure("input-to-paint", { start: from, end: performance.now() });
          port1.close();
        };
        port2.postMessage(null);
      });
    },
    restart: () => kernel.restart(),
    cancel: () => kernel.halt(),
    stop: () => {
      kernel.stop();
      settle();
      const error = { code: "stopped", field: "", value: "", allowed: "" };
      const message = "the computation was stopped";
      const hint = "change a setting to start it again";
      store.dispatch({
        kind: "refused",
        operation: store.state.operation,
        error: { ...error, message, hint },
      });
    },
    "copy-details": () =>
      void copied(`${store.state.run.details}\n${location.href}`, "Details copied."),
    ...exercises.verbs(run, restAddress, say),
  };

  /** @param {string} format */
  async function save(format) {
    const { chart, ghost } = view.shownChart();
    const name = fileName(store.state.operation, settingsOf(store.state));
    try {
      if (format === "picture") {
        if (store.state.run.answer?.picture && answered) {
          say(`Saved ${savePicture(answered, name)}`);
        }
      } else if (chart && (format === "csv" || format === "svg" || format === "png")) {
        say(`Saved ${await saveChart(format, chart, ghost, name)}`);
      }
    } catch (thrown) {
      alertNow(`The file could not be made. ${detailsOf(thrown)}`);
    }
  }

  for (const [verb, act] of Object.entries(verbs)) {
    document.addEventListener(`lab:${verb}`, (event) => {
      const detail = event instanceof CustomEvent ? event.detail : null;
      act(typeof detail === "object" && detail !== null ? detail : {});
    });
  }
  store.subscribe((state) => view.render(state, exercises));
  window.addEventListener("hashchange", () => {
    if (location.hash !== written) void restore();
  });
  window.addEventListener("beforeprint", () => printSheet(store.state, schema()));
  document.getElementById("theme")?.addEventListener("change", (event) => {
    if (event.target instanceof HTMLSelectElement) setTheme(event.target.value);
    view.refresh();
  });
  narrow.addEventListener("change", run);
  onSystemTheme(() => {
    applyTheme();
    view.refresh();
  });
  document.getElementById("copy-link")?.addEventListener("click", () => {
    written = address();
    history.replaceState(null, "", written);
    void copied(location.href, "Link copied: it opens this view.");
  });
  document.getElementById("erase")?.addEventListener("click", () => {
    eraseAll();
    applyTheme();
    view.refresh();
    exercises.forget();
    say("Everything stored in this browser by this page is erased.");
  });
  document.querySelector(".skip")?.addEventListener("click", (event) => {
    // The fragment holds the state, so the link must not change it.
    event.preventDefault();
    document.getElementById("bench")?.focus();
  });
  document.getElementById("open-exercise")?.addEventListener("click", () => {
    exercises.open(0);
    restAddress();
  });
  void restore().then(() => document.getElementById("bench")?.removeAttribute("hidden"));
}
