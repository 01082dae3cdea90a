import { LabElement } from "../../elements/lab-element.js";
import { drawShapes } from "../../elements/lab-picture.js";
import { h, s, send, setText } from "../../dom.js";

/** The layout from above with the section line. Sends `lab:resized` when its room changes. */
export class SheetLayout extends LabElement {
  #drawing = s("g");
  #width = 0;

  build() {
    this.append(
      h(
        "figure",
        { class: "picture" },
        h("figcaption", { id: "layout-name" }, "The masks from above"),
        h(
          "div",
          { class: "picture-frame" },
          s(
            "svg",
            { role: "img", "aria-labelledby": "layout-name", "aria-describedby": "layout-words" },
            this.#drawing,
          ),
        ),
        h("p", { class: "visually-hidden", id: "layout-words" }),
      ),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    const frame = this.querySelector(".picture-frame");
    const observer = new ResizeObserver(() => {
      if (!(frame instanceof HTMLElement)) return;
      const width = Math.round(frame.clientWidth - 16);
      if (width === this.#width) return;
      this.#width = width;
      send(this, "resized");
    });
    if (frame) observer.observe(frame);
    signal.addEventListener("abort", () => observer.disconnect());
  }

  /** The room for the picture in CSS pixels. */
  get width() {
    return this.#width;
  }

  /** @param {import("../types.js").Scene} scene */
  show({ width, height, shapes, description }) {
    this.querySelector("svg")?.setAttribute("viewBox", `0 0 ${width} ${height}`);
    drawShapes(this.#drawing, shapes);
    setText(this.querySelector("#layout-words"), description);
  }
}
