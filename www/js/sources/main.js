/**
 * The Sources place: every published value, asked for in this browser, and every constant. It is a
 * page of its own, so that a visitor of a bench loads nothing of it.
 */

import { alertNow, announce } from "../announce.js";
import { BENCHES, benchOf } from "../benches.js";
import { h, setText } from "../dom.js";
import { startWorker } from "../own-worker.js";
import { applyTheme, chosenTheme, onSystemTheme, setTheme } from "../theme.js";
import { ask } from "./ask.js";
import { ChecksTable } from "./checks-table.js";
import { ConstantsTable } from "./constants-table.js";
import { checksCsv, save } from "./csv.js";
import { KINDS, RESULTS, isShown, readFilter, writeFilter } from "./filter.js";

/** @typedef {import("./types.js").Check} Check */
/** @typedef {import("./types.js").Outcome} Outcome */

/** A pause in which the page can draw and answer, where it has to compute by itself. */
const breathe = () => new Promise((resolve) => setTimeout(resolve));

/** @param {string} id */
function byId(id) {
  const element = document.getElementById(id);
  if (!element) throw new Error(`the page has no ${id}`);
  return element;
}

/**
 * @param {string} name
 * @returns {Promise<unknown>}
 */
async function data(name) {
  const url = new URL(`../../data/${name}`, import.meta.url);
  const response = await fetch(url).catch((thrown) => {
    throw new Error(`${url.pathname} could not be loaded: ${String(thrown)}`);
  });
  if (!response.ok) {
    throw new Error(`${url.pathname} could not be loaded: the server said ${response.status}`);
  }
  return response.json();
}

/**
 * @param {import("./types.js").Listing} listing
 * @param {import("./types.js").Constant[]} constants
 */
function mount(listing, constants) {
  const { checks } = listing;
  /** @type {Map<Check, Outcome>} */
  const outcomes = new Map();
  const table = new ChecksTable(checks);
  const listed = new ConstantsTable(constants);
  byId("checks-region").replaceChildren(table.build());
  byId("constants-region").replaceChildren(listed.build());
  byId("left-out").replaceChildren(...leftOut(listing));
  let filter = readFilter(location.hash);

  const selects = {
    bench: select("filter-bench", [["", "all benches"], ...BENCHES.map(benchOption)]),
    kind: select("filter-kind", [["", "all kinds"], ...Object.entries(KINDS).map(kindOption)]),
    result: select("filter-result", [["", "all results"], ...Object.entries(RESULTS)]),
  };

  function show() {
    for (const [name, one] of Object.entries(selects)) {
      one.value = filter[/** @type {keyof typeof filter} */ (name)];
    }
    const count = table.show((check) => isShown(filter, check, outcomes.get(check)?.verdict ?? ""));
    listed.show((one) => isShown({ ...filter, result: "" }, one, ""));
    byId("nothing").hidden = count > 0;
    return count;
  }

  for (const [name, one] of Object.entries(selects)) {
    one.addEventListener("change", () => {
      filter = { ...filter, [name]: one.value };
      history.replaceState(null, "", writeFilter(filter));
      announce(`${show()} published values shown.`);
    });
  }
  window.addEventListener("hashchange", () => {
    filter = readFilter(location.hash);
    show();
  });
  byId("save-csv").addEventListener("click", () => {
    const shown = checks.filter((check) =>
      isShown(filter, check, outcomes.get(check)?.verdict ?? ""),
    );
    save(checksCsv(shown, outcomes), "bare-wafer-checks.csv");
    announce(`Saved ${shown.length} rows as bare-wafer-checks.csv`);
  });

  /** @param {boolean} done */
  function tell(done) {
    const bar = byId("progress");
    if (bar instanceof HTMLProgressElement) {
      bar.max = checks.length;
      bar.value = outcomes.size;
    }
    const counts = { met: 0, known_deviation: 0, off: 0 };
    for (const { verdict } of outcomes.values()) {
      counts[verdict === "met" || verdict === "known_deviation" ? verdict : "off"] += 1;
    }
    const text =
      `${outcomes.size} of ${checks.length} computed in this browser: ${counts.met} met, ` +
      `${counts.known_deviation} known deviations, ${counts.off} off.`;
    setText(byId("tally"), text);
    byId("tally").dataset["state"] = done ? "done" : "running";
    byId("progress").hidden = done;
    if (done) announce(text);
  }

  const families = [...new Set(BENCHES.map(({ family }) => family))];
  const askers = families.map((family) => ({
    family,
    checks: checks.filter((check) => benchOf(check.bench).family === family),
  }));

  /**
   * @param {Check[]} asked
   * @param {number} from
   * @param {Outcome[]} some
   */
  function take(asked, from, some) {
    some.forEach((outcome, k) => {
      const check = asked[from + k];
      if (!check) return;
      outcomes.set(check, outcome);
      table.fill(check, outcome);
    });
    if (filter.result !== "") show();
    tell(false);
  }

  /** @param {string[]} failed */
  function fail(failed) {
    if (failed.length === 0) return;
    const text = `Not all could be computed. ${failed.join(" ")}`;
    setText(byId("failure-text"), text);
    byId("failure").hidden = false;
    alertNow(text);
  }

  async function run() {
    byId("failure").hidden = true;
    /** @type {string[]} */
    const failed = [];
    const worker = workerOrNull();
    for (const { family, checks: asked } of askers) {
      if (asked.every((check) => outcomes.has(check))) continue;
      let from = 0;
      /** @param {Outcome[]} some */
      const give = async (some) => {
        take(asked, from, some);
        from += some.length;
        if (!worker) await breathe();
      };
      try {
        if (worker) await askWorker(worker, family, asked, give);
        else await ask(family, asked, give);
      } catch (thrown) {
        const reason = thrown instanceof Error ? thrown.message : String(thrown);
        failed.push(`The ${family} part of the kernel: ${reason}.`);
      }
    }
    worker?.terminate();
    tell(outcomes.size === checks.length);
    show();
    fail(failed);
  }

  byId("retry").addEventListener("click", () => void run());
  show();
  tell(false);
  void run();
}

/** A worker, or null where a frame of opaque origin refuses it. */
function workerOrNull() {
  try {
    return startWorker(new URL("./worker.js", import.meta.url));
  } catch {
    return null;
  }
}

/**
 * @param {Worker} worker
 * @param {string} family
 * @param {Check[]} checks
 * @param {(outcomes: Outcome[]) => Promise<void>} give
 * @returns {Promise<void>}
 */
function askWorker(worker, family, checks, give) {
  return new Promise((resolve, reject) => {
    worker.onmessage = ({ data: reply }) => {
      if (reply.outcomes) void give(reply.outcomes);
      else if (reply.done) resolve();
      else reject(new Error(reply.reason));
    };
    worker.onerror = (event) => {
      event.preventDefault();
      reject(new Error(event.message || "the worker could not be loaded"));
    };
    worker.postMessage({ family, checks });
  });
}

/**
 * @param {import("./types.js").Listing} listing
 * @returns {Node[]}
 */
function leftOut({ left_out }) {
  /** @type {Map<string, string[]>} */
  const reasons = new Map();
  for (const { id, why } of left_out) reasons.set(why, [...(reasons.get(why) ?? []), id]);
  return [...reasons].map(([why, ids]) =>
    h("li", {}, `${why} (${ids.length}): `, h("small", {}, ids.join(", "))),
  );
}

/**
 * @param {string} id
 * @param {[string, string][]} options
 */
function select(id, options) {
  const element = byId(id);
  if (!(element instanceof HTMLSelectElement)) throw new Error(`${id} is no list`);
  element.replaceChildren(...options.map(([word, text]) => h("option", { value: word }, text)));
  return element;
}

/**
 * @param {import("../types.js").Bench} bench
 * @returns {[string, string]}
 */
function benchOption({ id, name }) {
  return [id, name];
}

/**
 * @param {[string, string]} kind
 * @returns {[string, string]}
 */
function kindOption([word, meaning]) {
  return [word, `${word}: ${meaning}`];
}

async function start() {
  applyTheme();
  onSystemTheme(applyTheme);
  const theme = document.getElementById("theme");
  if (theme instanceof HTMLSelectElement) {
    theme.value = chosenTheme();
    theme.addEventListener("change", () => setTheme(theme.value));
  }
  try {
    const [listing, constants] = await Promise.all([data("checks.json"), data("constants.json")]);
    byId("starting").hidden = true;
    byId("sources").hidden = false;
    mount(
      /** @type {import("./types.js").Listing} */ (listing),
      /** @type {import("./types.js").Constant[]} */ (constants),
    );
  } catch (thrown) {
    const text = `The lists could not be shown. ${thrown instanceof Error ? thrown.message : thrown}.`;
    setText(byId("starting-text"), text);
    const again = byId("starting-retry");
    again.hidden = false;
    again.addEventListener("click", () => location.reload());
    alertNow(text);
  }
}

await start();
