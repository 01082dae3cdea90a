import { BENCHES } from "../benches.js";
import { h, send } from "../dom.js";
import { drawingOf } from "../drawings.js";
import { LabElement } from "./lab-element.js";

/** The row of benches. Sends `lab:go`; each bench is also a plain link. */
export class LabStrip extends LabElement {
  build() {
    const items = BENCHES.map((bench) => {
      const link = h("a", { href: `#v=1&bench=${bench.id}`, "data-bench": bench.id });
      link.append(drawingOf(bench.id), h("span", {}, bench.name));
      return h("li", {}, link);
    });
    this.append(h("nav", { "aria-label": "Benches" }, h("ul", { class: "strip" }, ...items)));
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.addEventListener(
      "click",
      (event) => {
        // A plain click keeps the settings of the other bench; a modified one opens the link.
        if (event.ctrlKey || event.metaKey || event.shiftKey || event.altKey) return;
        const link = event.target instanceof Element ? event.target.closest("a") : null;
        if (!link) return;
        event.preventDefault();
        send(this, "go", { bench: link.dataset["bench"] ?? "" });
      },
      { signal },
    );
  }

  /** @param {{ bench: string }} view */
  render(view) {
    for (const link of this.querySelectorAll("a")) {
      const current = link.dataset["bench"] === view.bench;
      if (current === link.hasAttribute("aria-current")) continue;
      link.toggleAttribute("aria-current", current);
      if (!current) continue;
      link.setAttribute("aria-current", "true");
      // On a narrow screen the row scrolls: the bench in view must be seen in it.
      const strip = link.closest("ul");
      if (strip) strip.scrollLeft = link.offsetLeft - strip.offsetLeft - strip.clientWidth / 3;
    }
  }
}
