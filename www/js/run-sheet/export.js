/** Files of what is seen and of what was computed. */

import { h } from "../dom.js";
import { patterns } from "../elements/lab-picture.js";
import { download } from "../save.js";
import { factOf } from "./view.js";
import { nameAndUnit, resultRows, valueWords } from "./words.js";

/** @typedef {import("./types.js").State} State */
/** @typedef {"section" | "layout" | "report" | "measurements"} What */

const SVG = "http://www.w3.org/2000/svg";
/** Pixels of a PNG for each of the page's. */
const DENSITY = 2;
/** Room above a picture for its title, in px. */
const TITLE_ROOM = 30;
const FONT = "sans-serif";

/** What a file takes along of how an element is seen. */
const SEEN = [
  "fill",
  "fill-opacity",
  "stroke",
  "stroke-width",
  "stroke-dasharray",
  "stroke-linecap",
  "stroke-linejoin",
  "opacity",
  "vector-effect",
];
const SEEN_TEXT = ["font-size", "font-weight", "text-anchor", "dominant-baseline", "paint-order"];

/**
 * Saves a file and gives its name: `flow-step-what.ext`.
 * @param {What} what
 * @param {"svg" | "png" | "json" | "csv"} format
 * @param {State} state
 */
export async function saveFile(what, format, state) {
  const { doc, step } = state;
  const own = doc?.steps[step];
  if (!doc || !own) throw new Error("there is no flow");
  const parts = what === "measurements" ? [doc.flow, what] : [doc.flow, own.id, what];
  const name = `${parts.map(clean).join("-")}.${format}`;
  if (what === "section" || what === "layout") {
    const svg = pictureText(what, state);
    const blob = new Blob([svg.text], { type: "image/svg+xml" });
    download(format === "png" ? await pngOf(blob, svg.width, svg.height) : blob, name);
  } else if (format === "json") {
    const text = `${JSON.stringify(dataOf(what, state), null, 2)}\n`;
    download(new Blob([text], { type: "application/json" }), name);
  } else {
    const rows = what === "report" ? reportRows(state) : measurementRows(state);
    const text = rows.map((row) => row.map(csvField).join(",")).join("\r\n");
    // A byte order mark tells spreadsheets that the file is UTF-8.
    const parts = ["\ufeff", text, "\r\n"];
    download(new Blob(parts, { type: "text/csv;charset=utf-8" }), name);
  }
  return name;
}

/** @param {string} text */
function clean(text) {
  return text.replace(/[^\w.]+/g, "-").slice(0, 60) || "flow";
}

/**
 * The picture that is seen as the text of a file of its own, on white.
 * @param {"section" | "layout"} what
 * @param {State} state
 */
function pictureText(what, state) {
  const figure = document.querySelector(`sheet-${what} figure`);
  const size = figure?.querySelector("svg")?.viewBox.baseVal;
  if (!figure || !size || size.width === 0) throw new Error("there is no picture yet");
  const { doc, step } = state;
  const fact = factOf(state, step);
  const flow = state.facts?.title || doc?.flow || "";
  const place =
    what === "layout"
      ? "the masks from above"
      : `section after step ${step + 1}, ${fact?.name ?? ""}: ${doc?.steps[step]?.id ?? ""}`;
  const title = `${flow}, ${place}`;
  const words = document.getElementById(`${what}-words`)?.textContent ?? "";
  // The light palette holds inside of this, whatever the page wears.
  const stage = h("div", { class: "export-stage", "aria-hidden": "true" });
  const copy = /** @type {HTMLElement} */ (figure.cloneNode(true));
  stage.append(copy);
  document.querySelector(`sheet-${what}`)?.append(stage);
  try {
    const svg = /** @type {SVGSVGElement} */ (copy.querySelector("svg"));
    svg.prepend(patterns());
    inline([...svg.querySelectorAll("*")]);
    const [width, height] = [size.width, size.height + TITLE_ROOM];
    const letters = Math.min(15, (width - 24) / (0.58 * title.length));
    for (const name of [...svg.getAttributeNames()]) svg.removeAttribute(name);
    const whole = document.createElementNS(SVG, "g");
    whole.setAttribute("transform", `translate(0 ${TITLE_ROOM})`);
    whole.append(...svg.childNodes);
    svg.append(
      element("title", {}, title),
      element("desc", {}, words),
      element("rect", { width, height, fill: "#ffffff" }),
      element(
        "text",
        { x: 12, y: 20, "font-size": letters.toFixed(1), "font-weight": 700, fill: "#20242a" },
        title,
      ),
      whole,
    );
    for (const [name, value] of Object.entries({
      xmlns: SVG,
      width: String(width),
      height: String(height),
      viewBox: `0 0 ${width} ${height}`,
      role: "img",
      "font-family": FONT,
      "stroke-linejoin": "round",
    })) {
      if (name !== "xmlns") svg.setAttribute(name, value);
    }
    const text = new XMLSerializer().serializeToString(svg);
    return { text: `<?xml version="1.0" encoding="UTF-8"?>\n${text}\n`, width, height };
  } finally {
    stage.remove();
  }
}

/**
 * Writes what the style sheets say of elements into them. All are read before any is changed: the
 * look of one may come from the class of another around it.
 * @param {Element[]} elements
 */
function inline(elements) {
  const looks = elements.map((element) => {
    const style = getComputedStyle(element);
    if (style.display === "none" && !element.closest("defs")) return null;
    const tag = element.localName;
    const names = tag === "text" ? [...SEEN, ...SEEN_TEXT] : SEEN;
    if (!["path", "ellipse", "circle", "rect", "text"].includes(tag)) return [];
    return names.map((name) => [name, style.getPropertyValue(name).trim()]);
  });
  for (const [k, element] of elements.entries()) {
    const look = looks[k];
    if (!look) {
      element.remove();
      continue;
    }
    for (const [name = "", value = ""] of look) {
      if (!["", "none", "normal", "auto"].includes(value)) {
        element.setAttribute(name, value.replace(/url\("?[^#]*(#[\w-]+)"?\)/, "url($1)"));
      } else if (name === "fill") element.setAttribute(name, "none");
    }
    for (const name of ["style", "class", "tabindex"]) element.removeAttribute(name);
    if (!element.closest("defs")) element.removeAttribute("id");
  }
}

/**
 * @param {string} tag
 * @param {Record<string, string | number>} attributes
 * @param {string} [text]
 */
function element(tag, attributes, text = "") {
  const made = document.createElementNS(SVG, tag);
  for (const [name, value] of Object.entries(attributes)) made.setAttribute(name, String(value));
  made.textContent = text;
  return made;
}

/**
 * @param {Blob} svg
 * @param {number} width
 * @param {number} height
 * @returns {Promise<Blob>}
 */
async function pngOf(svg, width, height) {
  const url = URL.createObjectURL(svg);
  try {
    const image = new Image(Math.round(width * DENSITY), Math.round(height * DENSITY));
    image.src = url;
    await image.decode();
    const canvas = h("canvas", {
      width: String(image.width),
      height: String(image.height),
    });
    canvas.getContext("2d")?.drawImage(image, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/png"));
    if (!(blob instanceof Blob)) throw new Error("the browser could not make a PNG image");
    return blob;
  } finally {
    URL.revokeObjectURL(url);
  }
}

/**
 * @param {What} what
 * @param {State} state
 */
function dataOf(what, state) {
  const { doc, step, told, summary } = state;
  const flow = doc?.flow ?? "";
  if (what === "measurements") {
    if (!summary) throw new Error("the flow has not run to its end");
    return { flow, ...summary };
  }
  const report = told[step]?.report;
  if (!report) throw new Error(`step ${step + 1} has not run`);
  return { flow, step: doc?.steps[step], report };
}

/**
 * @param {State} state
 * @returns {string[][]}
 */
function reportRows(state) {
  const report = state.told[state.step]?.report;
  if (!report) throw new Error(`step ${state.step + 1} has not run`);
  /** @param {string} name @param {unknown} value */
  const exact = (name, value) => {
    const [words, unit] = nameAndUnit(name);
    return typeof value === "number"
      ? ["result", words, String(value), unit]
      : ["result", words, resultRows({ [name]: value })[0]?.[1] ?? "", ""];
  };
  return [
    ["kind", "name", "value", "unit"],
    ...Object.entries(report.results).map(([name, value]) => exact(name, value)),
    ...report.warnings.map(({ code, message }) => ["warning", code, message, ""]),
    ...report.hazards.map((id) => ["hazard", id, "", ""]),
  ];
}

/**
 * @param {State} state
 * @returns {string[][]}
 */
function measurementRows({ summary }) {
  if (!summary) throw new Error("the flow has not run to its end");
  return [
    ["id", "quantity", "value", "unit", "where"],
    ...summary.measurements.map(({ id, quantity, value, unit, where }) => [
      id,
      quantity,
      typeof value === "number" ? String(value) : valueWords(value, ""),
      unit,
      where,
    ]),
  ];
}

/**
 * A field for a spreadsheet; a text that it would take for a formula is told to be none.
 * @param {string} text
 */
function csvField(text) {
  const safe = /^[=+@\t\r]/.test(text) || /^-[^\d.]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}
