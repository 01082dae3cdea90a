import { LabElement } from "../../elements/lab-element.js";
import { h, rebuild, send, setText } from "../../dom.js";
import { sentence } from "../../format.js";

/**
 * @typedef {{ levels: readonly import("../types.js").Level[], done: number,
 *   hidden: readonly string[], chosen: string }} LevelsView done: steps that have been done
 */

/**
 * The mask levels: which are shown, how often each has been printed, and which one is being
 * changed. Sends `lab:level-shown` and `lab:level-chosen`.
 */
export class SheetLevels extends LabElement {
  build() {
    this.append(h("h4", {}, "Mask levels"), h("ul", { class: "levels" }));
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener(
      "change",
      ({ target }) => {
        // The fields of the mask that is being changed stand in its row.
        if (!(target instanceof HTMLInputElement) || target.type !== "checkbox") return;
        send(this, "level-shown", {
          level: target.value,
          shown: target.checked,
        });
      },
      { signal },
    );
    this.addEventListener(
      "click",
      ({ target }) => {
        const button = target instanceof Element ? target.closest("button") : null;
        const level = button?.dataset["level"];
        if (level !== undefined) send(this, "level-chosen", { level });
      },
      { signal },
    );
  }

  /**
   * @param {LevelsView} view
   * @param {HTMLElement} mask what the level that is being changed shows under its row
   */
  render({ levels, done, hidden, chosen }, mask) {
    const list = this.querySelector("ul");
    if (!list) return;
    rebuild(
      list,
      JSON.stringify(levels.map(({ level, name, polarity }) => [level, name, polarity])),
      () =>
        levels.map(({ level, name, polarity }, k) =>
          h(
            "li",
            {},
            h(
              "label",
              { class: "check" },
              h("input", {
                type: "checkbox",
                value: level,
                "aria-describedby": `level-words-${k}`,
              }),
              h("span", {}, h("strong", {}, level), name === level ? "" : ` ${name}`),
            ),
            h(
              "button",
              {
                type: "button",
                "data-level": level,
                "aria-label": `Change ${level}, ${name}`,
                "aria-controls": "mask",
              },
              "Change",
            ),
            h(
              "p",
              { id: `level-words-${k}` },
              `${sentence(polarity)} `,
              h("span", { class: "prints" }),
            ),
          ),
        ),
    );
    levels.forEach(({ level, prints }, k) => {
      const item = list.children[k];
      const input = item?.querySelector("input");
      if (input) input.checked = !hidden.includes(level);
      item?.querySelector("button")?.setAttribute("aria-pressed", String(level === chosen));
      const times = prints.filter((step) => step < done).length;
      item?.classList.toggle("printed", times > 0);
      setText(item?.querySelector(".prints"), printWords(times, prints.length));
      if (level === chosen && mask.parentElement !== item) item?.append(mask);
    });
  }
}

/**
 * @param {number} times
 * @param {number} all
 */
function printWords(times, all) {
  if (all === 0) return "No step prints it.";
  if (times === 0) return `Not printed yet${all > 1 ? `; ${all} times later` : ""}.`;
  if (times < all) return `Printed ${times} of ${all} times so far.`;
  return all === 1 ? "Printed." : `Printed ${all} times.`;
}
