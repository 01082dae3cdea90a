/** Has the kernel draw a layout and judge it against the design rules; keeps the last drawing. */

import { drawnText } from "./drawing.js";

/** @typedef {import("../types.js").FlowDoc} FlowDoc */
/** @typedef {import("../types.js").LayoutPicture} LayoutPicture */

export class Draftsman {
  #glue;
  /** @type {LayoutPicture | null} */
  #drawn = null;
  #asked = "";

  /** @param {import("../engine.js").Glue} glue */
  constructor(glue) {
    this.#glue = glue;
  }

  /**
   * Draws a flow's layout as it is looked at; throws the kernel's refusal.
   * @param {FlowDoc} doc
   * @param {import("../types.js").State | null} state
   * @param {number} width in CSS pixels
   * @returns {LayoutPicture}
   */
  draw(doc, state, width) {
    const plumb = state && Number.isFinite(state.plumb) ? { plumb: state.plumb } : {};
    const view = {
      width,
      steps: state ? state.step + 1 : 0,
      hidden: [...(state?.hidden ?? [])],
      ...plumb,
    };
    const text = drawnText(doc);
    const asked = `${text}${JSON.stringify(view)}`;
    if (asked === this.#asked && this.#drawn) return this.#drawn;
    const drawn = this.#glue.flowLayout(text, view);
    this.#asked = asked;
    this.#drawn = drawn;
    return drawn;
  }
}
