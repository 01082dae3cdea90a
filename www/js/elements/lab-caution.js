import { h, rebuild } from "../dom.js";
import { pictogram, triangle } from "../pictograms.js";
import { LabElement } from "./lab-element.js";

/** @typedef {import("../types.js").HazardRow} HazardRow */
/** Rows shown in full; the rest stand below as lines that are read at a glance. */
const FULL_ROWS = 2;

/**
 * The cautions of the step in view, worst first: always open, never behind a click. The notice
 * that this is a simulation stands in the page's own text as well.
 */
export class LabCaution extends LabElement {
  build() {
    this.append(
      h("h3", { id: "cautions", tabindex: "-1" }, "Cautions for the real step"),
      h("div", { class: "caution-rows" }),
      h(
        "p",
        { class: "deferral" },
        "This lab is a simulation. It is not training and gives no certificate. In a real lab follow your site's rules, the supplier's current safety data sheet, local codes and law, and work only with trained staff. In an emergency call your site's emergency number first.",
      ),
    );
  }

  /** @param {{ rows: HazardRow[], measured: boolean }} view `measured`: a question, no step */
  render({ rows, measured }) {
    const place = this.querySelector(".caution-rows");
    if (!(place instanceof HTMLElement)) return;
    const stamp = `${String(measured)} ${rows.map((row) => row.id).join()}`;
    rebuild(place, stamp, () => {
      if (measured && rows.length === 0) {
        const text = "Measuring adds none of its own; the steps that made the layer have theirs.";
        return [h("p", {}, text)];
      }
      const full = rows.slice(0, FULL_ROWS);
      const rest = rows.slice(FULL_ROWS);
      return [
        ...full.map((row, k) => fullRow(row, full.slice(0, k))),
        ...(rest.length > 0 ? [h("ul", { class: "caution-lines" }, ...rest.map(line))] : []),
      ];
    });
  }
}

/**
 * How loud a row is: the class of its card and sign. Equipment hazards have no official word.
 * @param {HazardRow} row
 */
function loudness(row) {
  const { signal_word: word } = row;
  return word === "Danger" || word === "Warning" ? word.toLowerCase() : "plain";
}

/** @param {HazardRow} row */
export function signal(row) {
  const loud = loudness(row);
  const word = loud === "plain" ? "Caution" : row.signal_word;
  return h("strong", { class: `signal ${loud}` }, word);
}

/** @param {HazardRow} row */
function signs(row) {
  const found = row.ghs_pictograms.map(pictogram).filter((sign) => sign !== null);
  const warned = row.warning_signs.map(triangle);
  const all = [...found, ...warned];
  return h("p", { class: "signs" }, ...(all.length > 0 ? all : [triangle("")]));
}

/** @param {string} rule */
function neverLine(rule) {
  const rest = rule.replace(/^never\s+/i, "");
  return h("li", {}, h("strong", {}, "Never "), rest);
}

/**
 * @param {HazardRow} row
 * @param {HazardRow[]} above
 */
function fullRow(row, above) {
  const same = (/** @type {"ppe" | "first_aid"} */ key) => {
    const twin = above.find((other) => other[key] === row[key]);
    return twin ? `the same as for ${shortName(twin)}` : listed(row[key]);
  };
  /** @type {[string, string][]} */
  const lines = [
    ["Can happen", listed(row.h_meaning)],
    ["Work so", listed(row.p_main)],
    ["Wear", same("ppe")],
    ["Keep apart from", listed(row.incompatible)],
  ];
  const never = row.never.map(neverLine);
  return h(
    "section",
    { class: `caution ${loudness(row)}`, "data-hazard": row.id },
    h("h4", {}, signal(row), h("span", {}, row.name)),
    signs(row),
    h(
      "p",
      { class: "first-aid" },
      h("strong", {}, "First aid: "),
      row.first_aid_headline === "" ? same("first_aid") : row.first_aid_headline,
    ),
    h(
      "dl",
      {},
      ...lines
        .filter(([, text]) => text !== "" && text !== "-")
        .map(([name, text]) => h("div", {}, h("dt", {}, `${name}:`), " ", h("dd", {}, text))),
    ),
    ...(never.length > 0 ? [h("ul", { class: "never" }, ...never)] : []),
    ...(row.note === "" || row.note === "-"
      ? []
      : [h("p", { class: "soft" }, capital(listed(row.note)))]),
  );
}

/** @param {HazardRow} row */
function line(row) {
  const aid = row.first_aid_headline === "" ? row.first_aid : row.first_aid_headline;
  return h(
    "li",
    { "data-hazard": row.id },
    signal(row),
    h(
      "span",
      {},
      h("strong", {}, row.name),
      `: ${listed(row.h_meaning)}. `,
      h("span", {}, `First aid: ${aid}.`.replace(/\.\.$/, ".")),
    ),
  );
}

/** @param {HazardRow} row */
export function shortName(row) {
  return row.name.replace(/\s*\(.*$/, "");
}

/** The table's lists use semicolons; a note on where a fact was read belongs to the table only. */
/** @param {string} text */
function listed(text) {
  return text
    .replace(/\s*\((?:read|memory)[^)]*\)/g, "")
    .replace(/\s*\b(?:read|memory): .*$/, "")
    .replace(/(\d) C\b/g, "$1\u00a0°C")
    .trim();
}

/** @param {string} text */
function capital(text) {
  return text.charAt(0).toUpperCase() + text.slice(1);
}
