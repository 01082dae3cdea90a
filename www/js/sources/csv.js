/** The lists as files for a spreadsheet, in full precision. */

import { benchOf } from "../benches.js";

/**
 * Text cells that a spreadsheet would take for a formula are quoted as text.
 * @param {unknown} value
 */
function cell(value) {
  if (typeof value === "number") return String(value);
  const text = value === null || value === undefined ? "" : String(value);
  const safe = /^[=+\-@\t\r]/.test(text) ? `'${text}` : text;
  return /[",\r\n]/.test(safe) ? `"${safe.replaceAll('"', '""')}"` : safe;
}

/** @param {unknown[][]} rows */
function file(rows) {
  return rows.map((row) => row.map(cell).join(",")).join("\r\n") + "\r\n";
}

/**
 * @param {readonly import("./types.js").Check[]} checks
 * @param {ReadonlyMap<import("./types.js").Check, import("./types.js").Outcome>} outcomes
 */
export function checksCsv(checks, outcomes) {
  const heads = ["id", "bench", "quantity", "conditions", "published", "ours", "unit"];
  heads.push("deviation", "tolerance", "measured in", "result", "source", "known by");
  heads.push("note", "known deviation", "request");
  const rows = checks.map((check) => {
    const outcome = outcomes.get(check);
    const { name } = benchOf(check.bench);
    return [
      ...[check.id, name, check.what, check.conditions, check.expected, outcome?.ours],
      ...[check.unit, outcome?.deviation, check.tolerance, check.allowed, outcome?.verdict],
      ...[check.source, check.known_by, check.note, check.known_deviation],
      JSON.stringify(check.request),
    ];
  });
  return file([heads, ...rows]);
}

/**
 * Saves a text as a file; a byte order mark tells spreadsheets that it is UTF-8.
 * @param {string} text
 * @param {string} name
 */
export function save(text, name) {
  const url = URL.createObjectURL(new Blob(["\ufeff", text], { type: "text/csv;charset=utf-8" }));
  const link = document.createElement("a");
  link.href = url;
  link.download = name;
  link.click();
  // The browser reads the address after the click has returned.
  setTimeout(() => URL.revokeObjectURL(url), 10_000);
}
