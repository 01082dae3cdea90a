import { LabElement } from "../../elements/lab-element.js";
import { drawShapes } from "../../elements/lab-picture.js";
import { h, s, send, setText } from "../../dom.js";
import { hang, placeIn } from "../plumb.js";

/** @typedef {import("../types.js").SectionPicture} SectionPicture */

/**
 * The section of the pinned run, above that of the run in view and to the same scale, with the same
 * plumb line. Sends `lab:plumb`.
 */
export class SheetPinned extends LabElement {
  #drawing = s("g");
  #line = s("g", { class: "plumb", "aria-hidden": "true" });
  /** @type {SectionPicture | null} */
  #picture = null;
  #plumb = NaN;

  build() {
    this.append(
      h(
        "figure",
        { class: "picture" },
        h("figcaption", { id: "pinned-name" }),
        h(
          "div",
          { class: "picture-frame section-frame" },
          s(
            "svg",
            {
              role: "img",
              "aria-labelledby": "pinned-name",
              "aria-describedby": "compare-words",
            },
            this.#drawing,
            this.#line,
          ),
        ),
      ),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    const svg = this.querySelector("svg");
    const point = (/** @type {PointerEvent} */ event) => {
      const place = svg && this.#picture && placeIn(svg, this.#picture, event);
      if (place) send(this, "plumb", { x: place.x });
    };
    svg?.addEventListener("pointerup", point, { signal });
    svg?.addEventListener(
      "pointermove",
      (event) => {
        if (event.pointerType === "mouse" && event.buttons === 0) point(event);
      },
      { signal },
    );
  }

  /** @param {{ title: string, plumb: number, stale: boolean }} view */
  render({ title, plumb, stale }) {
    setText(this.querySelector("figcaption"), title);
    this.classList.toggle("stale", stale);
    this.#plumb = plumb;
    hang(this.#line, this.#picture, plumb);
  }

  /** @param {SectionPicture} picture */
  show(picture) {
    if (picture !== this.#picture) {
      this.#picture = picture;
      const { width, height, shapes } = picture.scene;
      this.querySelector("svg")?.setAttribute("viewBox", `0 0 ${width} ${height}`);
      drawShapes(this.#drawing, shapes);
    }
    hang(this.#line, picture, this.#plumb);
  }
}
