import { LabElement } from "../../elements/lab-element.js";
import { h, rebuild, send, setText } from "../../dom.js";
import { quantity, spoken } from "../../format.js";
import { lengthWords } from "../words.js";

/** @typedef {import("../types.js").Place} Place */

/**
 * What lies under the plumb line: layers, junctions, sheet resistances. Sends `lab:depth` for a
 * profile along the section.
 */
export class SheetPlace extends LabElement {
  build() {
    this.append(
      h("h3", { id: "place-name" }),
      h("table", { class: "layers" }, h("caption", {}, "Layers from the top down"), h("tbody")),
      h("p", { class: "place-junctions" }),
      h("ul", { class: "place-sheets" }),
      h(
        "p",
        { class: "depth-control" },
        h("label", { for: "depth" }, "Profile along the section, depth (µm)"),
        h("input", { id: "depth", type: "text", inputmode: "decimal", autocomplete: "off" }),
        h("button", { type: "button", "data-off": "" }, "Below the line again"),
      ),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    this.querySelector("#depth")?.addEventListener(
      "change",
      (event) => {
        if (event.target instanceof HTMLInputElement) {
          send(this, "depth", { text: event.target.value });
        }
      },
      { signal },
    );
    this.querySelector("[data-off]")?.addEventListener(
      "click",
      () => send(this, "depth", { text: "" }),
      { signal },
    );
  }

  /**
   * @param {Place} place
   * @param {number | null} depth
   */
  render(place, depth) {
    setText(this.querySelector("h3"), `At x = ${quantity(place.x_um, "µm", 4)}`);
    const body = this.querySelector("tbody");
    if (body) {
      rebuild(body, JSON.stringify(place.layers), () =>
        place.layers.map((layer, k) => {
          const last = k === place.layers.length - 1;
          const variant = layer.variant ? `, ${spoken(layer.variant)}` : "";
          return h(
            "tr",
            {},
            h(
              "th",
              { scope: "row" },
              h("span", { class: `swatch m-${layer.material}`, "aria-hidden": "true" }),
              `${layer.material === "open" ? "open space" : spoken(layer.material)}${variant}`,
            ),
            h("td", {}, last ? "" : lengthWords(layer.thickness_nm)),
          );
        }),
      );
    }
    const junctions = place.junctions_um.map((um) => quantity(um, "µm"));
    setText(
      this.querySelector(".place-junctions"),
      junctions.length === 0 ? "No junction below." : `Junctions at ${junctions.join(" and ")}.`,
    );
    const sheets = this.querySelector(".place-sheets");
    if (sheets instanceof HTMLElement) {
      rebuild(sheets, JSON.stringify([place.sheet, place.polysilicon_ohm_sq]), () => [
        ...(place.polysilicon_ohm_sq === null
          ? []
          : [h("li", {}, `polysilicon: ${quantity(place.polysilicon_ohm_sq, "Ω/□")}`)]),
        ...place.sheet.map((layer) =>
          h(
            "li",
            {},
            `${layer.type}-type from ${quantity(layer.top_um, "µm")} to ${quantity(layer.bottom_um, "µm")}: ${
              layer.sheet_resistance_ohm_sq === null
                ? "nothing conducts"
                : quantity(layer.sheet_resistance_ohm_sq, "Ω/□")
            }`,
          ),
        ),
      ]);
    }
    const field = this.querySelector("#depth");
    if (field instanceof HTMLInputElement && document.activeElement !== field) {
      field.value = depth === null ? "" : String(depth);
    }
    this.querySelector("[data-off]")?.toggleAttribute("hidden", depth === null);
  }
}
