/** The list of hazards with its search, and the page of one hazard. */

import { writeAddress } from "../address.js";
import { BENCHES } from "../benches.js";
import { callout, signal } from "../callout.js";
import { h } from "../dom.js";
import { signsOf } from "../pictograms.js";
import { buildRequest, readRequest } from "../request.js";
import { writePlace } from "./place.js";

/** @typedef {import("./types.js").Handbook} Handbook */
/** @typedef {import("./types.js").Row} Row */

const CONFIRM = "Confirm against the supplier's current sheet.";

/**
 * Everything of a row that a search looks through.
 * @param {Row} row
 */
function haystack(row) {
  const codes = row.h_codes.flatMap(({ code, meaning }) => [code, meaning]);
  const texts = [row.id, row.name, row.can_happen, row.keep_apart, row.signal_word, row.kind];
  return [...texts, ...row.cas, ...codes, ...row.ghs_pictograms].join(" ").toLowerCase();
}

/**
 * The rows that have every word of a search.
 * @param {readonly Row[]} rows
 * @param {string} search
 */
export function matching(rows, search) {
  const words = search.toLowerCase().split(/\s+/).filter(Boolean);
  return rows.filter((row) => words.every((word) => haystack(row).includes(word)));
}

/**
 * A link to the page of a row.
 * @param {Pick<Row, "id" | "short_name">} row
 */
export function hazardLink({ id, short_name: name }) {
  return h("a", { href: writePlace({ hazard: id }) }, name);
}

/** @param {Row} row */
function item(row) {
  return h(
    "li",
    { "data-hazard": row.id },
    h(
      "p",
      { class: "item-head" },
      signal(row),
      h("a", { href: writePlace({ hazard: row.id }) }, row.name),
    ),
    signsOf(row),
    h("p", {}, `${row.can_happen}.`),
  );
}

/** @param {readonly Row[]} rows */
export function list(rows) {
  if (rows.length === 0) return h("p", { class: "nothing" }, "No row has these words.");
  return h("ul", { class: "hazards" }, ...rows.map(item));
}

/**
 * The page of one hazard.
 * @param {Handbook} book
 * @param {Row} row
 */
export function page(book, row) {
  const used = book.settings.filter((setting) => setting.hazards.includes(row.id));
  const rules = book.rules_of_sequence.filter((rule) => rule.hazards.includes(row.id));
  const anyConfirm = Object.values(row.confirm).some(Boolean);
  return h(
    "article",
    { class: "hazard", "aria-labelledby": "hazard-title" },
    h("p", {}, h("a", { href: writePlace({}), class: "back" }, "All hazards")),
    h("h2", { id: "hazard-title", tabindex: "-1" }, row.name),
    ...(anyConfirm ? [h("p", { class: "confirm" }, CONFIRM)] : []),
    callout(row, [], "h3"),
    part("First aid in full", h("p", {}, sentence(row.first_aid_full))),
    ...(row.spill === "" ? [] : [part("Spill or leak", h("p", {}, row.spill))]),
    ...(row.kind === "physical" ? [] : [limits(row)]),
    ...(row.listed.length > 0 ? [listed(row)] : []),
    ...(row.kind === "physical" ? [] : [codes(row)]),
    part(
      "Steps that use it",
      used.length > 0
        ? steps(used)
        : h("p", {}, "No step by its name; it stands for what is not known."),
    ),
    ...(rules.length > 0
      ? [
          part(
            "Known mistakes",
            h(
              "ul",
              {},
              ...rules.map((rule) =>
                h("li", {}, h("strong", {}, `${rule.title}. `), rule.reason, " ", rule.remedy),
              ),
            ),
          ),
        ]
      : []),
    sources(row),
  );
}

/**
 * @param {string} title
 * @param {Node[]} children
 */
function part(title, ...children) {
  return h("section", { class: "part" }, h("h3", {}, title), ...children);
}

/** @param {Row} row */
function limits({ limits: found, confirm }) {
  /** @type {[string, string, import("./types.js").Limit, boolean][]} */
  const rows = [
    ["OSHA PEL", "law in the United States", found.osha_pel, confirm.osha_pel],
    ["NIOSH REL", "recommended", found.niosh_rel, confirm.niosh_rel],
    ["NIOSH IDLH", "leave without delay", found.niosh_idlh, confirm.niosh_idlh],
  ];
  return part(
    "Limits in air",
    h(
      "dl",
      { class: "limits" },
      ...rows.map(([name, what, { value, known_by }, unsure]) =>
        h(
          "div",
          {},
          h("dt", {}, `${name}, ${what}`),
          h(
            "dd",
            {},
            h("strong", {}, value),
            ...(known_by === value ? [] : [h("small", {}, sentence(known_by))]),
            ...(unsure ? [h("span", { class: "confirm" }, CONFIRM)] : []),
          ),
        ),
      ),
    ),
    h(
      "p",
      { class: "soft" },
      "\u201cnone\u201d: no value in that list; it does not mean harmless. The dates of the lists stand under Words and codes.",
    ),
  );
}

/**
 * What open compilations say of the substance: read by a program, each with its source.
 * @param {Row} row
 */
function listed({ listed: found }) {
  return part(
    "In open compilations",
    h(
      "dl",
      { class: "limits" },
      ...found.map(({ title, text, known_by }) =>
        h("div", {}, h("dt", {}, title), h("dd", {}, text, h("small", {}, sentence(known_by)))),
      ),
    ),
    h(
      "p",
      { class: "soft" },
      "Where a limit here is lower than the one above, another authority holds less to be safe: your site says which counts.",
    ),
  );
}

/** @param {Row} row */
function codes({ h_codes: found, cas }) {
  return part(
    "On the label",
    h(
      "ul",
      { class: "codes" },
      ...found.map(({ code, meaning, variant }) =>
        h("li", {}, h("strong", {}, code), ` ${meaning}${variant ? " (some suppliers)" : ""}`),
      ),
    ),
    ...(cas.length > 0 ? [h("p", {}, `CAS number: ${cas.join(", ")}`)] : []),
  );
}

/** @param {import("./types.js").Setting[]} used */
function steps(used) {
  return h(
    "ul",
    { class: "steps" },
    ...used.map(({ label, request }) => {
      const link = benchLink(request);
      return h("li", {}, link === "" ? label : h("a", { href: link }, label));
    }),
  );
}

/**
 * The bench with these chemicals; empty if no bench of the page has the step yet.
 * @param {import("../types.js").Json} request
 */
function benchLink(request) {
  const bench = BENCHES.find(({ operations }) => operations.includes(String(request["operation"])));
  if (!bench) return "";
  const { operation, settings } = readRequest(request);
  // A bench spins on a primed wafer the same way as on a bare one.
  const { primed: _primed, ...known } = settings;
  const again = buildRequest(operation, known, () => true);
  const same = Object.entries(request).every(([k, v]) => k === "primed" || again[k] === v);
  // Some chemistries have no words on the bench's form.
  if (!same) return "";
  return `./${writeAddress({ bench: bench.id, operation, settings: known, exercise: null })}`;
}

/** @param {Row} row */
function sources({ sources: found }) {
  const names = { classification: "Classification", osha_pel: "OSHA", niosh: "NIOSH" };
  return part(
    "Where this comes from",
    h(
      "ul",
      {},
      ...found.map(({ part: of, source, known_by }) => {
        const name = names[/** @type {keyof typeof names} */ (of)] ?? of;
        const text = [source, known_by].filter(Boolean).join("; ");
        return h("li", {}, `${name}: ${sentence(text)}`);
      }),
    ),
  );
}

/** @param {string} text */
function sentence(text) {
  const trimmed = text.trim();
  if (trimmed === "") return "";
  const first = trimmed.charAt(0).toUpperCase() + trimmed.slice(1);
  return /[.?]$/.test(first) ? first : `${first}.`;
}
