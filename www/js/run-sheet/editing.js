/** What a person does to the steps of a flow: verbs and buttons that make a changed one. */

import * as documents from "./document.js";
import { fieldsOf, rivalsOf, valueOf } from "./fields.js";
import { listVerbs } from "./list-verbs.js";

/** @typedef {import("./types.js").FlowDoc} FlowDoc */

/** Moves of a slider that come after each other sooner than this are one change. */
const JOIN_MS = 1000;

/**
 * @param {{ store: import("./store.js").Store,
 *   schema: readonly import("../types.js").OperationSchema[],
 *   say: (text: string) => void }} page
 */
export function editing({ store, schema, say }) {
  let lastSet = { path: "", step: -1, at: 0 };

  /**
   * @param {FlowDoc} doc
   * @param {{ step?: number, joins?: boolean }} [how]
   */
  function edit(doc, { step = store.state.step, joins = false } = {}) {
    if (doc === store.state.doc) return;
    store.dispatch({ kind: "edit", doc, step, joins });
  }

  /** @param {(doc: FlowDoc, step: number) => { doc: FlowDoc, step: number, said: string }} change */
  function change(change) {
    const { doc, step } = store.state;
    if (!doc) return;
    const after = change(doc, step);
    if (after.doc === doc) return;
    edit(after.doc, { step: after.step });
    say(after.said);
  }

  /**
   * @param {string} path
   * @param {unknown} given
   */
  function set(path, given) {
    const { doc, step } = store.state;
    if (!doc) return;
    const operation = String(doc.steps[step]?.step["operation"] ?? "");
    const known = fieldsOf(schema, doc, step).find((field) => field.path === path);
    let after = documents.setField(doc, step, path, valueOf(known, given));
    for (const rival of rivalsOf(operation, path)) {
      after = documents.setField(after, step, rival, undefined);
    }
    const now = performance.now();
    const joins = lastSet.path === path && lastSet.step === step && now - lastSet.at < JOIN_MS;
    lastSet = { path, step, at: now };
    performance.mark("field-set");
    edit(after, { joins });
  }

  /**
   * @param {number} from
   * @param {number} to
   */
  function moveStep(from, to) {
    change((doc) => ({
      doc: documents.move(doc, from, to),
      step: to,
      said: `Step ${from + 1} is now step ${to + 1}.`,
    }));
  }

  /** @type {Record<string, (detail: Record<string, unknown>) => void>} */
  const verbs = {
    "set-field": ({ path, value }) => set(String(path), value),
    "leave-out": ({ path }) => set(String(path), undefined),
    ...listVerbs({ store, schema, edit, say, set }),
    note: ({ text }) => {
      const { doc, step } = store.state;
      if (doc) edit(documents.setText(doc, step, "note", String(text)));
    },
    move: ({ from, to }) => moveStep(Number(from), Number(to)),
  };

  /** @type {Record<string, () => void>} */
  const buttons = {
    undo: () => store.dispatch({ kind: "undo" }),
    redo: () => store.dispatch({ kind: "redo" }),
    duplicate: () =>
      change((doc, step) => ({
        doc: documents.duplicate(doc, step),
        step: step + 1,
        said: `Step ${step + 1} duplicated.`,
      })),
    remove: () =>
      change((doc, step) => ({
        doc: documents.remove(doc, step),
        step,
        said: `Step ${step + 1} deleted.`,
      })),
    "move-up": () => moveStep(store.state.step, store.state.step - 1),
    "move-down": () => moveStep(store.state.step, store.state.step + 1),
    insert: () => {
      const select = document.getElementById("insert-operation");
      if (!(select instanceof HTMLSelectElement)) return;
      change((doc, step) => ({
        doc: documents.insert(doc, step, select.value),
        step: step + 1,
        said: `Step ${step + 2} is new.`,
      }));
    },
  };

  return { edit, verbs, buttons };
}
