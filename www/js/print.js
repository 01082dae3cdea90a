/** What only a printed sheet needs: the settings as a table, and the way back. */

import { h } from "./dom.js";
import { plain } from "./format.js";
import { visiblePaths } from "./request.js";
import { describe } from "./schema.js";
import { settingsOf } from "./store.js";

/**
 * @param {import("./types.js").State} state
 * @param {readonly import("./types.js").OperationSchema[]} schema
 */
export function printSheet(state, schema) {
  const place = document.getElementById("print-sheet");
  if (!place) return;
  const settings = settingsOf(state);
  const rows = visiblePaths(state.operation, settings).flatMap((path) => {
    const field = describe(schema, state.operation, path, settings);
    const value = settings[path];
    if (!field || value === undefined) return [];
    const { number, choice } = field;
    const words = choice?.values.find(([word]) => word === value)?.[1] ?? String(value);
    const text = number ? `${plain(Number(value))} ${number.unit}` : words;
    return [
      h("tr", {}, h("th", { scope: "row" }, (number ?? choice)?.label ?? path), h("td", {}, text)),
    ];
  });
  place.replaceChildren(
    h("table", {}, h("caption", {}, "Settings"), h("tbody", {}, ...rows)),
    h("p", {}, location.href),
  );
}
