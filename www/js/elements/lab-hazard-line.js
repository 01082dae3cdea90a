import { h, rebuild } from "../dom.js";
import { grade, signal } from "../callout.js";
import { LabElement } from "./lab-element.js";

/**
 * The worst caution of the step in one line above the bench, with the way to all of them; a known
 * mistake of the settings goes before it.
 */
export class LabHazardLine extends LabElement {
  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener(
      "click",
      (event) => {
        if (!(event.target instanceof HTMLButtonElement)) return;
        const heading = document.getElementById("cautions");
        heading?.focus({ preventScroll: true });
        heading?.scrollIntoView({ block: "start" });
      },
      { signal },
    );
  }

  /**
   * @param {{ rows: import("../types.js").Callout[], found?: import("../types.js").Finding[] }} view
   */
  render({ rows, found = [] }) {
    const stamp = [...found.map((one) => one.rule), ...rows.map((row) => row.id)].join();
    rebuild(this, stamp, () => {
      const [worst] = rows;
      if (!worst) return [];
      const others = rows.slice(1).map((row) => row.short_name);
      const also = others.length > 0 ? ` Also here: ${others.join("; ")}.` : "";
      const [mistake] = found;
      return [
        mistake ? grade(mistake.grade) : signal(worst),
        h(
          "p",
          {},
          ...(mistake ? [h("strong", {}, `${mistake.title}. `), `${mistake.remedy} `] : []),
          h("strong", {}, worst.short_name),
          ` in the real step: ${worst.can_happen}.${also}`,
        ),
        h("button", { type: "button" }, "Read the cautions"),
      ];
    });
  }
}
