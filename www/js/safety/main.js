/**
 * The Safety place: the hazard table, rules, emergency card, words, the sheet of a flow, questions.
 * It is a page of its own, so that a visitor of a bench loads nothing of it; its data is written by
 * the command from the kernel.
 */

import { alertNow, announce } from "../announce.js";
import { h, setText } from "../dom.js";
import { applyTheme, chosenTheme, onSystemTheme, setTheme } from "../theme.js";
import { flowSheet } from "./flow-sheet.js";
import { list, matching, page } from "./hazards.js";
import { VIEWS, readPlace, writePlace } from "./place.js";
import { questions } from "./questions.js";
import { emergency, rules, words } from "./texts.js";

/** @typedef {import("./types.js").Handbook} Handbook */

/** @param {string} id */
function byId(id) {
  const element = document.getElementById(id);
  if (!element) throw new Error(`the page has no ${id}`);
  return element;
}

/** @returns {Promise<Handbook>} */
async function handbook() {
  const url = new URL("../../data/safety.json", import.meta.url);
  const response = await fetch(url).catch((thrown) => {
    throw new Error(`${url.pathname} could not be loaded: ${String(thrown)}`);
  });
  if (!response.ok) {
    throw new Error(`${url.pathname} could not be loaded: the server said ${response.status}`);
  }
  return response.json();
}

/** @param {Handbook} book */
function mount(book) {
  const ids = book.rows.map((row) => row.id);
  let shown = "";

  /** @param {import("./types.js").Place} place */
  const keyOf = ({ view, hazard, sheet }) => `${view} ${hazard} ${sheet}`;

  /**
   * The address of a sheet that was chosen in view.
   * @param {string} sheet
   */
  function chosen(sheet) {
    history.replaceState(null, "", writePlace({ view: "flow", sheet }));
    shown = keyOf(readPlace(location.hash, ids));
  }

  /** @param {boolean} arrived whether the focus goes to the new part */
  function show(arrived) {
    const place = readPlace(location.hash, ids);
    const key = keyOf(place);
    byId("views").replaceChildren(
      ...Object.entries(VIEWS).map(([view, name]) =>
        h(
          "a",
          {
            href: writePlace({ view }),
            ...(view === place.view ? { "aria-current": "page" } : {}),
          },
          name,
        ),
      ),
    );
    // The part in view is kept while only its search changes: the text being typed stays.
    if (key === shown) return;
    shown = key;
    byId("view").replaceChildren(...contents(place));
    if (!arrived) return;
    const heading = byId("view").querySelector("h2");
    heading?.focus({ preventScroll: true });
    byId("views").scrollIntoView({ block: "start" });
  }

  /** @param {import("./types.js").Place} place */
  function contents(place) {
    const row = book.rows.find(({ id }) => id === place.hazard);
    setText(document.querySelector("title"), `${row ? row.short_name : "Safety"} · Bare Wafer`);
    if (row) return [page(book, row)];
    switch (place.view) {
      case "emergency":
        return emergency(book);
      case "rules":
        return rules(book);
      case "flow":
        return flowSheet(book, place.sheet, chosen);
      case "questions":
        return questions(book);
      case "words":
        return words(book);
      default:
        return hazardList(book, place.search);
    }
  }

  window.addEventListener("hashchange", () => show(true));
  show(false);
}

/**
 * @param {Handbook} book
 * @param {string} search
 */
function hazardList({ rows }, search) {
  const field = h("input", { type: "search", id: "search", value: search, maxlength: "60" });
  const count = h("p", { class: "count" });
  const place = h("div", {});
  const show = () => {
    const found = matching(rows, field.value);
    setText(count, `${found.length} of ${rows.length} hazards.`);
    place.replaceChildren(list(found));
  };
  field.addEventListener("input", () => {
    show();
    history.replaceState(null, "", writePlace({ search: field.value.trim() }));
    announce(count.textContent ?? "");
  });
  show();
  return [
    h("h2", { tabindex: "-1" }, "Hazards"),
    h(
      "p",
      { class: "search" },
      h("label", { for: "search" }, "Search by name, code, CAS number or word"),
      field,
    ),
    count,
    place,
  ];
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
    const book = await handbook();
    byId("starting").hidden = true;
    byId("safety").hidden = false;
    mount(book);
  } catch (thrown) {
    const text = `The hazard table could not be shown. ${thrown instanceof Error ? thrown.message : thrown}.`;
    setText(byId("starting-text"), text);
    const again = byId("starting-retry");
    again.hidden = false;
    again.addEventListener("click", () => location.reload());
    alertNow(text);
  }
}

await start();
