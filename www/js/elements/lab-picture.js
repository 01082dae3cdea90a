import { h, s, setText } from "../dom.js";
import { path } from "../paths.js";
import { LabElement } from "./lab-element.js";

/** @typedef {import("../types.js").Scene} Scene */
/** @typedef {import("../types.js").Shape} Shape */

/** The thing itself: a scene as SVG elements, filled with the materials of the style sheet. */
export class LabPicture extends LabElement {
  /** @type {Scene | null} */
  #scene = null;
  #drawing = s("g");

  build() {
    const svg = s(
      "svg",
      { role: "img", "aria-labelledby": "picture-name picture-text" },
      patterns(),
      this.#drawing,
    );
    this.append(
      h(
        "figure",
        { class: "picture" },
        h("figcaption", { id: "picture-name" }, "The wafer, to scale"),
        h("div", { class: "picture-frame" }, svg),
        h("p", { class: "soft", id: "picture-text" }),
      ),
    );
  }

  /** @param {{ scene: Scene | null, title: string }} view */
  render(view) {
    const svg = this.querySelector("svg");
    if (!svg) return;
    this.hidden = view.scene === null;
    setText(this.querySelector("figcaption"), view.title);
    if (view.scene === this.#scene) return;
    this.#scene = view.scene;
    if (!view.scene) {
      this.#drawing.replaceChildren();
      setText(this.querySelector("#picture-text"), "");
      return;
    }
    const { width, height, shapes, description } = view.scene;
    svg.setAttribute("viewBox", `0 0 ${width} ${height}`);
    // Letters and hatches of the frame are made for about one pixel a unit.
    svg.style.maxInlineSize = `${Math.min(1.25 * width, 600)}px`;
    drawShapes(this.#drawing, shapes);
    setText(this.querySelector("#picture-text"), description);
  }
}

/** @type {Record<Shape["kind"], "g" | "path" | "ellipse" | "text">} */
const TAGS = {
  area: "g",
  ground: "g",
  tint: "path",
  line: "path",
  strokes: "path",
  ellipse: "ellipse",
  text: "text",
};

/**
 * Draws a scene's shapes. While a slider moves, most shapes stay what they are and only go
 * elsewhere: an element is made anew only where another kind of shape stands.
 * @param {Element} drawing
 * @param {Shape[]} shapes
 */
export function drawShapes(drawing, shapes) {
  /** @type {Element | null} */
  let element = drawing.firstElementChild;
  for (const shape of shapes) {
    const tag = TAGS[shape.kind];
    if (element?.tagName !== tag) {
      const fresh = s(tag);
      if (element) element.replaceWith(fresh);
      else drawing.append(fresh);
      element = fresh;
    }
    dress(element, shape);
    element = element.nextElementSibling;
  }
  while (element) {
    const next = element.nextElementSibling;
    element.remove();
    element = next;
  }
}

/**
 * @param {Element} element
 * @param {Record<string, string | number>} attributes
 */
function set(element, attributes) {
  for (const [name, value] of Object.entries(attributes)) {
    const text = String(value);
    if (element.getAttribute(name) !== text) element.setAttribute(name, text);
  }
}

/**
 * Makes an element show a shape.
 * @param {Element} element
 * @param {Shape} shape
 */
function dress(element, shape) {
  const style = /** @type {SVGElement} */ (element).style;
  switch (shape.kind) {
    case "area":
    case "ground": {
      const d = shape.d ?? `${path(shape.points)}Z`;
      const material = word(shape.material);
      if (!element.firstElementChild) {
        element.append(s("path", { class: "fill" }), s("path", { class: "hatch" }));
      }
      const [fill, hatch] = element.children;
      const bare = shape.kind === "ground" ? " bare" : "";
      set(element, { class: `material m-${material}${bare}` });
      if (fill) set(fill, { d });
      if (hatch) set(hatch, { d, fill: `url(#hatch-${material})` });
      break;
    }
    case "tint":
      set(element, { d: shape.d ?? `${path(shape.points)}Z`, class: "tint" });
      style.fill = color(shape.color);
      style.fillOpacity = String(shape.opacity);
      return;
    case "line":
      set(element, {
        d: shape.d ?? path(shape.points),
        class: `line s-${word(shape.style)}`,
      });
      break;
    case "strokes":
      set(element, {
        d: shape.d ?? shape.lines.map(path).join(""),
        class: `line s-${word(shape.style)}`,
      });
      break;
    case "ellipse": {
      const [cx, cy] = shape.center;
      const [rx, ry] = shape.radii;
      set(element, { cx, cy, rx, ry, class: `line s-${word(shape.style)}` });
      style.fill = shape.color === "" ? "" : color(shape.color);
      return;
    }
    case "text": {
      const [x, y] = shape.at;
      set(element, {
        x,
        y,
        "text-anchor": word(shape.anchor),
        class: `t-${word(shape.style)}`,
      });
      style.fontSize = `${shape.size}px`;
      setText(element, shape.text);
      return;
    }
  }
  // What a tint wore that stood here before.
  if (element.hasAttribute("style")) element.removeAttribute("style");
}

/** @param {string} text */
function word(text) {
  return text.replace(/[^a-z_]/g, "");
}

/** @param {string} text */
function color(text) {
  return /^#[0-9a-f]{6}$/i.test(text) ? text : "none";
}

/** The hatch of each material; strokes take their color from the style sheet. */
export function patterns() {
  /** @type {[string, number, number, string][]} */
  const hatches = [
    ["n_silicon", 14, 10, "M2 5H8"],
    ["p_silicon", 10, 14, "M5 3V9"],
    ["thermal_oxide", 14, 14, "M-2 16L16 -2M-2 2L2 -2M12 16L16 12"],
    ["deposited_oxide", 14, 14, "M1 13l1-1M6 8l1-1M11 3l1-1"],
    ["glass", 14, 14, "M1 13l1-1M6 8l1-1M11 3l1-1"],
    ["phosphorus_glass", 14, 14, "M1 13l1-1M6 8l1-1M11 3l1-1"],
    ["nitride", 12, 7, "M0 3.5H12"],
    ["polysilicon", 7, 7, "M-1 -1L8 8M-1 6L1 8M6 -1L8 1"],
    ["metal", 10, 10, "M0 0L10 10M10 0L0 10"],
    ["aluminum", 10, 10, "M0 0L10 10M10 0L0 10"],
    ["resist", 9, 9, "M2 2h.01M6.500 6.500h.01"],
  ];
  return s(
    "defs",
    {},
    ...hatches.map(([name, width, height, d]) =>
      s(
        "pattern",
        {
          id: `hatch-${name}`,
          width,
          height,
          patternUnits: "userSpaceOnUse",
          class: `m-${name}`,
        },
        s("path", { d, class: "hatch-line" }),
      ),
    ),
    s("pattern", { id: "hatch-silicon", width: 8, height: 8, patternUnits: "userSpaceOnUse" }),
  );
}
