/** The numbers behind a chart: tables to read and a file to work with. */

import { h } from "./dom.js";
import { editable, significant } from "./format.js";

/** @typedef {import("./types.js").Chart} Chart */
/** @typedef {import("./types.js").Series} Series */
/** @typedef {{ heads: string[], columns: number[][] }} Columns */

/** @param {import("./types.js").Axis} axis */
function head(axis) {
  return axis.unit === "" ? axis.label : `${axis.label} (${axis.unit})`;
}

/**
 * Curves with the same abscissas share a table.
 * @param {Chart} chart
 * @returns {Columns[]}
 */
function columnsOf(chart) {
  /** @type {{ x: number[], series: Series[] }[]} */
  const groups = [];
  for (const series of chart.series) {
    const same = groups.find(
      ({ x }) => x.length === series.x.length && x.every((value, k) => value === series.x[k]),
    );
    if (same) same.series.push(series);
    else groups.push({ x: series.x, series: [series] });
  }
  return groups.map(({ x, series }) => ({
    heads: [
      head(chart.x),
      ...series.map((one) =>
        series.length === 1 && groups.length === 1
          ? head(chart.y)
          : `${one.label}${chart.y.unit === "" ? "" : ` (${chart.y.unit})`}`,
      ),
    ],
    columns: [x, ...series.map((one) => one.y)],
  }));
}

/**
 * Tables with at most so many rows each, evenly picked, first and last included.
 * @param {Chart} chart
 * @param {number} most
 */
export function tablesOf(chart, most) {
  return columnsOf(chart).map(({ heads, columns }) => {
    const length = columns[0]?.length ?? 0;
    const count = Math.min(length, most);
    const rows = Array.from({ length: count }, (_, k) =>
      count < 2 ? 0 : Math.round((k * (length - 1)) / (count - 1)),
    );
    const caption =
      count < length
        ? `${chart.title}: ${count} of ${length} rows; the CSV file has all`
        : chart.title;
    return h(
      "table",
      {},
      h("caption", {}, caption),
      h("thead", {}, h("tr", {}, ...heads.map((text) => h("th", { scope: "col" }, text)))),
      h(
        "tbody",
        {},
        ...rows.map((row) =>
          h("tr", {}, ...columns.map((column) => h("td", {}, significant(column[row] ?? NaN, 4)))),
        ),
      ),
    );
  });
}

/**
 * All rows in full precision: header row with units, decimal point, one block of rows for each set
 * of abscissas. Text cells that a spreadsheet would take for a formula are quoted as text.
 * @param {Chart} chart
 */
export function csvOf(chart) {
  return columnsOf(chart)
    .map(({ heads, columns }) => {
      const rows = (columns[0] ?? []).map((_, row) =>
        columns.map((column) => exact(column[row] ?? NaN)).join(","),
      );
      return [heads.map(cell).join(","), ...rows].join("\r\n");
    })
    .join("\r\n\r\n")
    .concat("\r\n");
}

/** @param {number} value */
function exact(value) {
  return Number.isFinite(value) ? String(value) : "";
}

/** @param {string} text */
function cell(text) {
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/**
 * A name for a saved file from the settings that matter.
 * @param {string} operation
 * @param {import("./types.js").Settings} settings
 */
export function fileName(operation, settings) {
  const parts = [
    "ambient",
    "resist",
    "etchant",
    "dopant",
    "temperature_c",
    "energy_kev",
    "speed_rpm",
  ]
    .map((key) => settings[key])
    .filter((value) => value !== undefined)
    .map((value) => (typeof value === "number" ? editable(value) : value));
  return [operation, ...parts].join("-").replace(/[^\w.-]/g, "_");
}
