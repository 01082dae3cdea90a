import { callout, mistakes } from "../callout.js";
import { h, rebuild } from "../dom.js";
import { LabElement } from "./lab-element.js";

/**
 * The cautions of the step in view: the known mistakes of its settings, then every caution in full,
 * worst first; always open, never behind a click. A mistake that appears is said at once. The notice that this is a simulation stands in the page's own text as well.
 */
export class LabCaution extends LabElement {
  build() {
    this.append(
      h("h3", { id: "cautions", tabindex: "-1" }, "Cautions for the real step"),
      h("div", { class: "caution-found", "aria-live": "assertive" }),
      h("div", { class: "caution-rows" }),
      h(
        "p",
        { class: "deferral" },
        "This lab is a simulation. It is not training and gives no certificate. In a real lab follow your site's rules, the supplier's current safety data sheet, local codes and law, and work only with trained staff. In an emergency call your site's emergency number first. ",
        h("a", { href: "safety.html" }, "Look it up in the Safety place"),
      ),
    );
  }

  /**
   * @param {{ rows: import("../types.js").Callout[], measured: boolean,
   *   found?: import("../types.js").Finding[] }} view `measured`: a question, no step
   */
  render({ rows, measured, found = [] }) {
    const alert = this.querySelector(".caution-found");
    if (alert instanceof HTMLElement) {
      rebuild(alert, found.map((one) => one.rule).join(), () =>
        found.length > 0 ? [mistakes(found, false)] : [],
      );
    }
    const place = this.querySelector(".caution-rows");
    if (!(place instanceof HTMLElement)) return;
    const stamp = `${String(measured)} ${rows.map((row) => row.id).join()}`;
    rebuild(place, stamp, () => {
      if (measured && rows.length === 0) {
        const text = "Measuring adds none of its own; the steps that made the layer have theirs.";
        return [h("p", {}, text)];
      }
      return rows.map((row, k) => callout(row, rows.slice(0, k)));
    });
  }
}
