/** What a person does to the lists and objects inside a step. */

import { fieldOf } from "./document.js";
import { addedPart, changedList, listsOf } from "./lists.js";

/** @typedef {import("./types.js").FlowDoc} FlowDoc */
/**
 * @typedef {{ store: import("./store.js").Store,
 *   schema: readonly import("../types.js").OperationSchema[], say: (text: string) => void,
 *   edit: (doc: FlowDoc) => void, set: (path: string, value: unknown) => void }} Page
 */

/** @type {Readonly<Record<string, (item: string, at: number) => string>>} */
const SAID = {
  start: (item) => `The recipe is now a list; ${item.toLowerCase()} 1 is what it was.`,
  add: (item, at) => `${item} ${at + 1} is new.`,
  remove: (item, at) => `${item} ${at + 1} removed.`,
  up: (item, at) => `${item} ${at + 1} is now ${item.toLowerCase()} ${at}.`,
  down: (item, at) => `${item} ${at + 1} is now ${item.toLowerCase()} ${at + 2}.`,
  end: () => "The recipe is one part again.",
};

/**
 * @param {Page} page
 * @returns {Record<string, (detail: Record<string, unknown>) => void>}
 */
export function listVerbs({ store, schema, edit, say, set }) {
  return {
    list: (detail) => {
      const { doc, step } = store.state;
      if (!doc) return;
      const [path, act, at] = [String(detail["path"]), String(detail["act"]), Number(detail["at"])];
      const item = listsOf(schema, doc, step).find((list) => list.path === path)?.item ?? "Part";
      const change = { path, act: /** @type {import("./lists.js").Act} */ (act), at };
      const after = changedList(schema, doc, step, change);
      if (after === doc) return;
      edit(after);
      say(SAID[act]?.(item, at) ?? "");
    },
    part: ({ path }) => {
      const { doc, step } = store.state;
      if (doc) edit(addedPart(schema, doc, step, String(path)));
    },
    // A ramp begins as none: it ends at the temperature at which it began.
    "give-field": ({ path }) => {
      const { doc, step } = store.state;
      const object = doc?.steps[step]?.step;
      if (object) set(String(path), fieldOf(object, String(path).replace("end_", "")));
    },
  };
}
