import { LabElement } from "../../elements/lab-element.js";
import { drawShapes } from "../../elements/lab-picture.js";
import { h, s, send, setText } from "../../dom.js";
import { plain } from "../../format.js";

/** @typedef {import("../layout/drawing.js").Box} Box */
/** @typedef {import("../layout/drawing.js").Figure} Figure */
/** @typedef {import("../layout/drawing.js").Line} Line */
/** @typedef {import("../layout/drawing.js").Point} Point */
/** @typedef {import("../layout/moves.js").Handle} Handle */
/**
 * @typedef {{ drawn: import("../types.js").LayoutPicture, extent: Box, line: Line, level: string,
 *   figures: readonly Figure[], figure: number }} LayoutView level: empty if none is being changed
 */

/** A pointer that moves by less is a tap, in px. */
const TAP_PX = 4;
/** Half a handle in px, as the style sheet has it: those of the corners stand outside the figure. */
const halfHandle = () => (matchMedia("(pointer: coarse)").matches ? 16 : 12);
/** Where on the section line the handle for all of it stands. */
const GRIP = 0.3;
/** @type {readonly Handle[]} */
const CORNERS = ["0,1", "2,1", "0,3", "2,3"];
/** @type {Readonly<Record<string, Point>>} */
const KEYS = {
  ArrowLeft: [-1, 0],
  ArrowRight: [1, 0],
  ArrowUp: [0, 1],
  ArrowDown: [0, -1],
};

/**
 * The layout from above with handles on the section line and on the chosen figure. Sends
 * `lab:layout-move` with a handle and how far it went, `lab:layout-steps` for arrow keys,
 * `lab:layout-draw` with a new box, `lab:layout-pick` with a figure and `lab:layout-resized`.
 */
export class SheetLayout extends LabElement {
  #drawing = s("g");
  #marks = s("g", { class: "layout-marks", "aria-hidden": "true" });
  #stage = h("div", { class: "layout-stage" });
  /** @type {Map<Handle, HTMLButtonElement>} */
  #handles = new Map();
  #width = 0;
  /** @type {LayoutView | null} */
  #view = null;
  /** @type {Box | null} */
  #rubber = null;

  build() {
    this.#stage.append(
      s(
        "svg",
        {
          role: "img",
          "aria-labelledby": "layout-name",
          "aria-describedby": "layout-words",
        },
        this.#drawing,
        this.#marks,
      ),
    );
    this.append(
      h(
        "figure",
        { class: "picture" },
        h("figcaption", { id: "layout-name" }, "The masks from above"),
        h("div", { class: "picture-frame" }, this.#stage),
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
      send(this, "layout-resized");
    });
    if (frame) observer.observe(frame);
    signal.addEventListener("abort", () => observer.disconnect());
    this.#point(signal);
    this.#stage.addEventListener(
      "keydown",
      (event) => {
        const handle = handleOf(event.target);
        const way = KEYS[event.key];
        if (!handle || !way || event.ctrlKey || event.metaKey || event.altKey) return;
        event.preventDefault();
        // Elsewhere the arrow keys step through the flow.
        event.stopPropagation();
        const times = event.shiftKey ? 10 : 1;
        send(this, "layout-steps", {
          handle,
          by: [times * way[0], times * way[1]],
        });
      },
      { signal },
    );
  }

  /** The room for the picture in CSS pixels. */
  get width() {
    return this.#width;
  }

  /** @param {LayoutView} view */
  render(view) {
    this.#view = view;
    const { width, height, shapes, description } = view.drawn.scene;
    this.querySelector("svg")?.setAttribute("viewBox", `0 0 ${width} ${height}`);
    drawShapes(this.#drawing, shapes);
    setText(this.querySelector("#layout-words"), description);
    this.#stage.classList.toggle("changing", view.level !== "");
    this.#mark();
    this.#place();
  }

  /** Outlines of the level that is being changed, and the rectangle that is being drawn. */
  #mark() {
    const view = this.#view;
    if (!view) return;
    /** @type {(box: Box, name: string) => SVGElement} */
    const outline = ([x1, y1, x2, y2], name) => {
      const [left, bottom] = this.#px([x1, y1]);
      const [right, top] = this.#px([x2, y2]);
      const size = { width: right - left, height: bottom - top };
      return s("rect", { class: name, x: left, y: top, ...size });
    };
    const rest = view.figures.map(({ box }, k) =>
      outline(box, k === view.figure ? "mark-chosen" : "mark-figure"),
    );
    this.#marks.replaceChildren(
      ...rest,
      ...(this.#rubber ? [outline(this.#rubber, "mark-new")] : []),
    );
  }

  /** Puts every handle where it belongs; those that are not needed go. */
  #place() {
    const view = this.#view;
    if (!view) return;
    const { from, to } = view.line;
    /** @type {(end: Point) => string} */
    const words = ([x, y]) => `x ${plain(x)}, y ${plain(y)} µm`;
    /** @type {Point} */
    const grip = [from[0] + GRIP * (to[0] - from[0]), from[1] + GRIP * (to[1] - from[1])];
    /** @type {Map<Handle, { at: Point, name: string, size?: Point }>} */
    const wanted = new Map([
      [
        "from",
        {
          at: this.#px(from),
          name: `End A of the section line, ${words(from)}`,
        },
      ],
      ["to", { at: this.#px(to), name: `End A′ of the section line, ${words(to)}` }],
      [
        "line",
        {
          at: this.#px(grip),
          name: `Section line, from ${words(from)} to ${words(to)}`,
        },
      ],
    ]);
    const figure = view.figures[view.figure];
    if (figure) {
      const { box, kind } = figure;
      const [left, bottom] = this.#px([box[0], box[1]]);
      const [right, top] = this.#px([box[2], box[3]]);
      wanted.set("body", {
        at: [(left + right) / 2, (top + bottom) / 2],
        size: [right - left, bottom - top],
        name: `${kind === "polygon" ? "Polygon" : "Rectangle"} ${view.figure + 1} of ${view.level}, ${words([box[0], box[1]])} to ${words([box[2], box[3]])}`,
      });
      const half = halfHandle();
      // Beside the handle of the whole figure, however small that is.
      const far = (/** @type {number} */ size) => Math.max(size / 2, half) + half;
      const [x, y] = [(left + right) / 2, (top + bottom) / 2];
      const [wide, high] = [far(right - left), far(bottom - top)];
      for (const corner of kind === "rectangle" ? CORNERS : []) {
        const [i, j] = /** @type {[0 | 2, 1 | 3]} */ (corner.split(",").map(Number));
        wanted.set(corner, {
          at: [i === 0 ? x - wide : x + wide, j === 1 ? y + high : y - high],
          name: `${j === 1 ? "Lower" : "Upper"} ${i === 0 ? "left" : "right"} corner, ${words([box[i], box[j]])}`,
        });
      }
    }
    for (const [handle, button] of this.#handles) {
      if (wanted.has(handle)) continue;
      button.remove();
      this.#handles.delete(handle);
    }
    const { width, height } = view.drawn.scene;
    for (const [handle, { at, name, size }] of wanted) {
      let button = this.#handles.get(handle);
      if (!button) {
        button = h("button", {
          type: "button",
          class: "layout-handle",
          "data-handle": handle,
          "aria-describedby": "layout-keys",
        });
        this.#handles.set(handle, button);
        this.#stage.append(button);
      }
      button.setAttribute("aria-label", name);
      button.style.left = `${(100 * at[0]) / width}%`;
      button.style.top = `${(100 * at[1]) / height}%`;
      if (size) {
        button.style.width = `${size[0]}px`;
        button.style.height = `${size[1]}px`;
      }
    }
  }

  /** Puts the focus on a handle, if it is there. */
  /** @param {Handle} handle */
  focusOn(handle) {
    this.#handles.get(handle)?.focus({ preventScroll: true });
  }

  /**
   * From µm to px of the picture.
   * @param {Point} place
   * @returns {Point}
   */
  #px([x, y]) {
    const view = this.#view;
    if (!view) return [0, 0];
    const [left, top, right, bottom] = view.drawn.frame;
    const [x0, y0, x1, y1] = view.extent;
    return [
      left + ((x - x0) / (x1 - x0)) * (right - left),
      bottom - ((y - y0) / (y1 - y0)) * (bottom - top),
    ];
  }

  /**
   * The place under a pointer in µm.
   * @param {PointerEvent} event
   * @returns {Point}
   */
  #um(event) {
    const view = this.#view;
    const svg = this.querySelector("svg");
    if (!view || !svg) return [0, 0];
    const [left, top, right, bottom] = view.drawn.frame;
    const [x0, y0, x1, y1] = view.extent;
    const room = svg.getBoundingClientRect();
    const px = room.width / view.drawn.scene.width;
    return [
      x0 + (((event.clientX - room.left) / px - left) / (right - left)) * (x1 - x0),
      y1 - (((event.clientY - room.top) / px - top) / (bottom - top)) * (y1 - y0),
    ];
  }

  /**
   * The smallest figure under a place; -1 for none.
   * @param {Point} place
   */
  #under([x, y]) {
    let [found, least] = [-1, Infinity];
    this.#view?.figures.forEach(({ box: [x1, y1, x2, y2] }, k) => {
      const area = (x2 - x1) * (y2 - y1);
      if (x < x1 || x2 < x || y < y1 || y2 < y || area >= least) return;
      [found, least] = [k, area];
    });
    return found;
  }

  /**
   * A drag moves a handle or the figure under the pointer; on free ground it draws a rectangle. A
   * tap chooses.
   * @param {AbortSignal} signal
   */
  #point(signal) {
    const stage = this.#stage;
    /** @type {{ id: number, x: number, y: number, at: Point, handle: Handle | null, figure: number, moved: boolean } | null} */
    let drag = null;
    stage.addEventListener(
      "pointerdown",
      (event) => {
        if (drag || event.button !== 0 || !this.#view) return;
        const at = this.#um(event);
        const handle = handleOf(event.target);
        const figure = handle || this.#view.level === "" ? -1 : this.#under(at);
        if (!handle && this.#view.level === "") return;
        drag = {
          id: event.pointerId,
          x: event.clientX,
          y: event.clientY,
          at,
          handle: handle ?? (figure >= 0 && figure === this.#view.figure ? "body" : null),
          figure,
          moved: false,
        };
        stage.setPointerCapture(event.pointerId);
      },
      { signal },
    );
    stage.addEventListener(
      "pointermove",
      (event) => {
        if (!drag || event.pointerId !== drag.id) return;
        const far = Math.hypot(event.clientX - drag.x, event.clientY - drag.y);
        if (!drag.moved && far < TAP_PX) return;
        if (!drag.moved && !drag.handle && drag.figure >= 0) {
          send(this, "layout-pick", { figure: drag.figure });
          drag.handle = "body";
        }
        drag.moved = true;
        this.#drag(drag, event, "held");
      },
      { signal },
    );
    stage.addEventListener(
      "pointerup",
      (event) => {
        if (!drag || event.pointerId !== drag.id) return;
        const { moved, handle, figure } = drag;
        if (moved) this.#drag(drag, event, "done");
        else if (!handle || handle === "body") {
          const under = handle ? this.#under(drag.at) : figure;
          send(this, "layout-pick", { figure: under });
        }
        if (handle) this.focusOn(handle);
        drag = null;
      },
      { signal },
    );
    const dropped = () => {
      if (!drag) return;
      drag = null;
      this.#rubber = null;
      send(this, "layout-move", { phase: "dropped" });
    };
    stage.addEventListener("pointercancel", dropped, { signal });
    stage.addEventListener(
      "keydown",
      (event) => {
        if (event.key === "Escape") dropped();
      },
      { signal },
    );
  }

  /**
   * @param {{ at: Point, handle: Handle | null }} drag
   * @param {PointerEvent} event
   * @param {"held" | "done"} phase
   */
  #drag({ at, handle }, event, phase) {
    const [x, y] = this.#um(event);
    if (handle) {
      send(this, "layout-move", { handle, by: [x - at[0], y - at[1]], phase });
      return;
    }
    /** @type {Box} */
    const box = [Math.min(x, at[0]), Math.min(y, at[1]), Math.max(x, at[0]), Math.max(y, at[1])];
    this.#rubber = phase === "held" ? box : null;
    this.#mark();
    if (phase === "done") send(this, "layout-draw", { box });
  }
}

/**
 * @param {EventTarget | null} target
 * @returns {Handle | null}
 */
function handleOf(target) {
  const button = target instanceof Element ? target.closest("[data-handle]") : null;
  return /** @type {Handle | null} */ (button?.getAttribute("data-handle") ?? null);
}
