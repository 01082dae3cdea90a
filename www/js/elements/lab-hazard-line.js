import { h, rebuild } from "../dom.js";
import { signal } from "../callout.js";
import { LabElement } from "./lab-element.js";

/** The worst caution of the step in one line above the bench, with the way to all of them. */
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

  /** @param {{ rows: import("../types.js").Callout[] }} view */
  render({ rows }) {
    rebuild(this, rows.map((row) => row.id).join(), () => {
      const [worst] = rows;
      if (!worst) return [];
      const others = rows.slice(1).map((row) => row.short_name);
      const also = others.length > 0 ? ` Also here: ${others.join("; ")}.` : "";
      return [
        signal(worst),
        h(
          "p",
          {},
          h("strong", {}, worst.short_name),
          ` in the real step: ${worst.can_happen}.${also}`,
        ),
        h("button", { type: "button" }, "Read the cautions"),
      ];
    });
  }
}
