/** Rows of the editor for the fields of a step that are lists, with the controls of the benches. */

import { h } from "../../dom.js";

/** @typedef {import("../lists.js").ListField} ListField */
/** @typedef {import("../fields.js").StepField} StepField */
/** @typedef {(field: StepField) => HTMLElement} Build */

/**
 * What rebuilds a list: other rows, or other fields in them.
 * @param {ListField} list
 */
export function stampOf({ path, rows }) {
  return `${path}${rows.map((row) => row.map(({ given }) => Number(given)).join("")).join("/")}`;
}

/**
 * @param {ListField} list with rows
 * @param {Build} build makes a field
 */
export function listOf(list, build) {
  const { path, label, item, optional, alone, rows } = list;
  const count = rows.length;
  return h(
    "fieldset",
    { class: "list-field", "data-list": path },
    h("legend", {}, label),
    h("p", { class: "field-error", "data-list-error": path, hidden: "" }),
    ...rows.map((fields, k) =>
      h(
        "fieldset",
        { class: "list-row", "data-row": String(k) },
        h("legend", {}, `${item} ${k + 1}`),
        ...fields.map((field) => partOf(field, optional, build)),
        h(
          "p",
          { class: "buttons" },
          act("up", path, k, `Move ${item.toLowerCase()} ${k + 1} up`, "↑", k === 0),
          act("down", path, k, `Move ${item.toLowerCase()} ${k + 1} down`, "↓", k === count - 1),
          act(
            "remove",
            path,
            k,
            `Remove ${item.toLowerCase()} ${k + 1}`,
            "Remove",
            alone && count === 1,
          ),
        ),
      ),
    ),
    h(
      "p",
      { class: "buttons" },
      act("add", path, count, `Add a ${item.toLowerCase()}`, `Add a ${item.toLowerCase()}`, false),
      ...(alone ? [act("end", path, 0, "One part again", "One part again", false)] : []),
    ),
  );
}

/**
 * The button that begins a list.
 * @param {ListField} list without rows
 */
export function beginning({ path, label, alone }) {
  const words = alone ? `Change to: ${label.toLowerCase()}` : `Add: ${label.toLowerCase()}`;
  return act("start", path, 0, words, words, false);
}

/**
 * A field of a row; one that may be left out is a button until it is given.
 * @param {StepField} field
 * @param {string[]} optional
 * @param {Build} build
 */
function partOf(field, optional, build) {
  const { path, number, choice, given } = field;
  const label = (number ?? choice)?.label ?? path;
  if (!optional.some((name) => path.endsWith(`.${name}`))) return build(field);
  if (!given) {
    return h("button", { type: "button", "data-give": path }, `Add: ${label.toLowerCase()}`);
  }
  return h(
    "div",
    { class: "given-field" },
    build(field),
    h(
      "button",
      { type: "button", "data-leave-out": path, "aria-label": `Leave out: ${label}` },
      "Leave out",
    ),
  );
}

/**
 * @param {import("../lists.js").Act} name
 * @param {string} path
 * @param {number} at
 * @param {string} label
 * @param {string} text
 * @param {boolean} off
 */
function act(name, path, at, label, text, off) {
  return h(
    "button",
    {
      type: "button",
      "data-act": name,
      "data-path": path,
      "data-at": String(at),
      "aria-label": label,
      ...(off ? { "aria-disabled": "true" } : {}),
    },
    text,
  );
}

/**
 * Where the focus belongs after an act: with what was moved, in what is new, beside what is gone.
 * @param {HTMLElement} place the editor
 * @param {{ name: string, path: string, at: number }} done
 */
export function focusAfter(place, { name, path, at }) {
  const list = place.querySelector(`[data-list="${path}"]`);
  const row = (/** @type {number} */ k) => list?.querySelector(`[data-row="${k}"]`);
  /** @type {Element | null | undefined} */
  let target = null;
  if (name === "up" || name === "down") {
    target = row(name === "up" ? at - 1 : at + 1)?.querySelector(`[data-act="${name}"]`);
  } else if (name === "add" || name === "start") target = row(at)?.querySelector("select, input");
  else if (name === "remove") target = list?.querySelector("[data-act=add]");
  else if (name === "leave") {
    target = place.querySelector(`[data-give="${path}"]`) ?? place.querySelector("summary");
  } else if (name === "give" || name === "part") {
    target = place.querySelector(
      `[data-field="${path}"] :is(input, select), [data-field^="${path}."] :is(input, select)`,
    );
  }
  if (!target) target = place.querySelector("input, select, button");
  if (target instanceof HTMLElement) target.focus();
}

/**
 * @param {HTMLElement} place
 * @param {Readonly<Record<string, string>>} errors
 */
export function tellErrors(place, errors) {
  for (const message of place.querySelectorAll("[data-list-error]")) {
    const text = errors[message instanceof HTMLElement ? (message.dataset["listError"] ?? "") : ""];
    message.textContent = text ?? "";
    message.toggleAttribute("hidden", !text);
  }
}
