/** The emergency card, the rules, the words of labels and limits. */

import { grade } from "../callout.js";
import { h } from "../dom.js";
import { pictogram, triangle } from "../pictograms.js";

/** @typedef {import("./types.js").Entry} Entry */
/** @typedef {import("./types.js").Handbook} Handbook */

/** @param {readonly Entry[]} entries */
function listed(entries) {
  return h(
    "dl",
    { class: "entries" },
    ...entries.map(({ title, text, known_by }) =>
      h("div", {}, h("dt", {}, title), h("dd", {}, text, " ", h("small", {}, `(${known_by})`))),
    ),
  );
}

/** @param {string} text */
function title(text) {
  return h("h2", { tabindex: "-1" }, text);
}

/** @param {Handbook} book */
export function emergency({ emergency: entries }) {
  return [
    title("Emergency card"),
    h("p", {}, "Print it and write in the numbers of your site; your site's own card comes first."),
    h(
      "section",
      { class: "emergency", "aria-label": "Emergency card" },
      h("p", { class: "blank" }, "Emergency number of this site: ", h("span", { class: "line" })),
      h("p", { class: "blank" }, "Shower, eye-wash, gel: ", h("span", { class: "line" })),
      h(
        "dl",
        { class: "entries" },
        ...entries.map(({ title: name, text }) =>
          h("div", {}, h("dt", {}, name), h("dd", {}, text)),
        ),
      ),
    ),
  ];
}

/** @param {Handbook} book */
export function rules(book) {
  return [
    title("Rules of the wet bench and the tools"),
    listed(book.rules_of_the_bench),
    h("h2", {}, "Mistakes between steps"),
    h(
      "p",
      {},
      "The lab finds these in a run sheet. It stays silent about every mistake it does not know: silence is no clearance.",
    ),
    h(
      "dl",
      { class: "entries" },
      ...book.rules_of_sequence.map((rule) =>
        h(
          "div",
          {},
          h("dt", {}, grade(rule.grade), ` ${rule.title}`),
          h("dd", {}, rule.reason, " ", rule.remedy, " ", h("small", {}, `(${rule.source})`)),
        ),
      ),
    ),
  ];
}

/** @param {Handbook} book */
export function words(book) {
  const signs = Array.from({ length: 9 }, (_, k) => `GHS0${k + 1}`);
  const warnings = ["W017", "W027", "W012", "W003", "W010"];
  return [
    title("Words and codes"),
    listed(book.glossary),
    h("h2", {}, "Signs"),
    h(
      "p",
      {},
      "Red diamonds stand on labels (UN GHS); yellow triangles warn of dangers without label (after ISO 7010). Our own drawings.",
    ),
    h(
      "ul",
      { class: "all-signs" },
      ...signs.map((code) => h("li", {}, pictogram(code) ?? "", ` ${code}`)),
      ...warnings.map((number) => h("li", {}, triangle(number), ` ${number}`)),
    ),
    h("h2", {}, "Hazard codes"),
    h(
      "dl",
      { class: "codes-in-use" },
      ...book.codes.map(([code, meaning]) => h("div", {}, h("dt", {}, code), h("dd", {}, meaning))),
    ),
    h("h2", {}, "Sources and their dates"),
    listed(book.sources),
  ];
}
