import { LabElement } from "../../elements/lab-element.js";
import { drawShapes } from "../../elements/lab-picture.js";
import { h, s, send, setText } from "../../dom.js";
import { plain } from "../../format.js";
import { hang, placeIn } from "../plumb.js";
import {
  EXAGGERATIONS,
  heightsFor,
  nearestExaggeration,
  panned,
  zoomed,
} from "./section-ranges.js";

/** @typedef {import("../types.js").SectionPicture} SectionPicture */
/** @typedef {import("./section-ranges.js").Ranges} Ranges */
/**
 * @typedef {{ title: string, view: import("../types.js").View, plumb: number, width: number,
 *   stale: boolean, pinned: boolean }} SectionView pinned: whether there is a run to compare with
 */

/** A pointer that moves by less is a tap, in px. */
const TAP_PX = 5;
/**
 * The section of the step in view, large, with a plumb line. Sends `lab:view` with other ranges
 * and switches, `lab:plumb` with a place and `lab:resized` when there is another room for it.
 */
export class SheetSection extends LabElement {
  #drawing = s("g");
  #plumb = s("g", { class: "plumb", "aria-hidden": "true" });
  /** @type {SectionPicture | null} */
  #picture = null;
  /** @type {SectionView | null} */
  #view = null;
  #size = { width: 0, height: 0 };
  #halved = false;

  build() {
    const frame = h(
      "div",
      { class: "picture-frame section-frame" },
      s(
        "svg",
        { role: "img", "aria-labelledby": "section-name", "aria-describedby": "section-words" },
        this.#drawing,
        this.#plumb,
      ),
    );
    this.append(
      h(
        "figure",
        { class: "picture" },
        h("figcaption", { id: "section-name", tabindex: "-1" }),
        frame,
      ),
      h(
        "div",
        { class: "section-tools buttons", role: "group", "aria-label": "What of it is shown" },
        tool("in", "Zoom in", "+"),
        tool("out", "Zoom out", "−"),
        tool("left", "To the left", "←"),
        tool("right", "To the right", "→"),
        tool("up", "Up", "↑"),
        tool("down", "Down", "↓"),
        tool("whole", "Whole section", "Whole"),
        h("label", { for: "exaggeration" }, "Heights"),
        h(
          "select",
          { id: "exaggeration" },
          h("option", { value: "" }, "to fit"),
          ...EXAGGERATIONS.map((times) => h("option", { value: String(times) }, `× ${times}`)),
        ),
        check("doping", "Doping"),
        h(
          "span",
          { class: "check" },
          h("label", { for: "changed-since" }, "Changes since"),
          h(
            "select",
            { id: "changed-since" },
            h("option", { value: "step" }, "the step before"),
            h("option", { value: "pinned" }, "the pinned run"),
            h("option", { value: "off" }, "(not shown)"),
          ),
        ),
      ),
      h(
        "div",
        { class: "plumb-control" },
        h("label", { for: "plumb" }, "Plumb line, x (µm)"),
        h("input", {
          id: "plumb-number",
          type: "text",
          inputmode: "decimal",
          autocomplete: "off",
          "aria-label": "Plumb line, x in µm",
        }),
        h("input", { id: "plumb", type: "range", min: "0", max: "1", step: "any" }),
      ),
    );
  }

  /** @param {AbortSignal} signal */
  listen(signal) {
    const frame = this.querySelector(".section-frame");
    const observer = new ResizeObserver(() => this.measure());
    if (frame) observer.observe(frame);
    signal.addEventListener("abort", () => observer.disconnect());
    this.addEventListener(
      "click",
      (event) => {
        const button = event.target instanceof Element ? event.target.closest("button") : null;
        if (button?.dataset["tool"]) this.#use(button.dataset["tool"]);
      },
      { signal },
    );
    this.addEventListener(
      "change",
      (event) => {
        const input = event.target;
        if (input instanceof HTMLSelectElement && input.id === "changed-since") {
          const { value } = input;
          const since = value === "off" ? {} : { since: value };
          send(this, "view", { changes: value !== "off", ...since });
        } else if (input instanceof HTMLSelectElement) this.#exaggerate(Number(input.value));
        else if (input instanceof HTMLInputElement && input.type === "checkbox") {
          send(this, "view", { [input.name]: input.checked });
        } else if (input instanceof HTMLInputElement && input.id === "plumb-number") {
          send(this, "plumb", { text: input.value });
        }
      },
      { signal },
    );
    this.querySelector("#plumb")?.addEventListener(
      "input",
      (event) => {
        if (event.target instanceof HTMLInputElement) {
          send(this, "plumb", { x: event.target.valueAsNumber });
        }
      },
      { signal },
    );
    const svg = this.querySelector("svg");
    if (svg) this.#point(svg, signal);
  }

  /** The room for the picture in CSS pixels. */
  get size() {
    return this.#size;
  }

  /** Looks how much room there is, and sends `lab:resized` if that is another. */
  measure() {
    const frame = this.querySelector(".section-frame");
    if (!(frame instanceof HTMLElement)) return;
    const style = getComputedStyle(frame);
    const inset = Number.parseFloat(style.paddingLeft) + Number.parseFloat(style.paddingRight);
    const width = Math.round(frame.clientWidth - inset);
    const alone = width < 520 ? 230 : Math.round(Math.min(420, Math.max(260, 0.4 * width)));
    // Two sections fit on the screen together.
    const height = this.#halved ? Math.max(150, Math.round(0.5 * alone)) : alone;
    if (width === this.#size.width && height === this.#size.height) return;
    this.#size = { width, height };
    send(this, "resized");
  }

  /** @param {SectionView} view */
  render(view) {
    this.#view = view;
    const halved = view.pinned && view.view.both;
    if (halved !== this.#halved) {
      this.#halved = halved;
      this.measure();
    }
    setText(this.querySelector("figcaption"), view.title);
    this.classList.toggle("stale", view.stale);
    const slider = this.querySelector("#plumb");
    if (slider instanceof HTMLInputElement && !Number.isNaN(view.plumb)) {
      const [from, to] = view.view.x ?? [0, view.width];
      slider.min = String(from);
      slider.max = String(to);
      // An arrow key moves the line by about two pixels.
      slider.step = String((to - from) / 400);
      slider.value = String(view.plumb);
      slider.setAttribute("aria-valuetext", `${plain(rounded(view.plumb))} µm`);
    }
    const number = this.querySelector("#plumb-number");
    if (number instanceof HTMLInputElement && document.activeElement !== number) {
      number.value = Number.isNaN(view.plumb) ? "" : String(rounded(view.plumb));
    }
    for (const input of this.querySelectorAll("input[type=checkbox]")) {
      if (input instanceof HTMLInputElement) {
        input.checked = view.view.doping;
      }
    }
    const since = this.querySelector("#changed-since");
    if (since instanceof HTMLSelectElement) {
      since.value = view.view.changes ? view.view.since : "off";
      const pinned = since.querySelector("[value=pinned]");
      if (pinned instanceof HTMLOptionElement) pinned.disabled = !view.pinned;
    }
    this.#hang();
  }

  /**
   * @param {SectionPicture} picture
   * @param {number} step
   */
  show(picture, step) {
    this.dataset["step"] = String(step + 1);
    if (picture !== this.#picture) {
      this.#picture = picture;
      const svg = this.querySelector("svg");
      const { width, height, shapes } = picture.scene;
      svg?.setAttribute("viewBox", `0 0 ${width} ${height}`);
      drawShapes(this.#drawing, shapes);
      const select = this.querySelector("#exaggeration");
      if (select instanceof HTMLSelectElement) {
        select.value = this.#view?.view.z ? nearestExaggeration(picture) : "";
      }
    }
    this.#hang();
  }

  /** Hangs the plumb line where it belongs in the picture that is shown. */
  #hang() {
    if (this.#view) hang(this.#plumb, this.#picture, this.#view.plumb);
  }

  /**
   * Pointers: hover or tap hangs the plumb line, a drag moves what is shown.
   * @param {SVGSVGElement} svg
   * @param {AbortSignal} signal
   */
  #point(svg, signal) {
    /** @type {{ x: number, y: number, view: Ranges, moved: boolean } | null} */
    let drag = null;
    let wanted = NaN;
    const hang = (/** @type {PointerEvent} */ event) => {
      const place = this.#placeOf(svg, event);
      if (!place) return;
      const waits = !Number.isNaN(wanted);
      wanted = place.x;
      if (waits) return;
      requestAnimationFrame(() => {
        send(this, "plumb", { x: wanted });
        wanted = NaN;
      });
    };
    svg.addEventListener(
      "pointerdown",
      (event) => {
        const view = this.#shown();
        if (view) drag = { x: event.clientX, y: event.clientY, view, moved: false };
      },
      { signal },
    );
    svg.addEventListener(
      "pointermove",
      (event) => {
        if (!drag) {
          if (event.pointerType === "mouse") hang(event);
          return;
        }
        const [dx, dy] = [event.clientX - drag.x, event.clientY - drag.y];
        if (!drag.moved && Math.hypot(dx, dy) < TAP_PX) return;
        if (!this.#view?.view.x && !this.#view?.view.z) return;
        if (!drag.moved) svg.setPointerCapture(event.pointerId);
        drag.moved = true;
        this.#pan(drag.view, -dx / this.#pxPer(svg).x, dy / this.#pxPer(svg).z);
      },
      { signal },
    );
    svg.addEventListener(
      "pointerup",
      (event) => {
        if (drag && !drag.moved) hang(event);
        drag = null;
      },
      { signal },
    );
    svg.addEventListener("pointercancel", () => (drag = null), { signal });
    svg.addEventListener(
      "wheel",
      (event) => {
        // Plain wheels scroll the page; with Ctrl they mean to zoom.
        if (!event.ctrlKey) return;
        event.preventDefault();
        this.#zoom(event.deltaY < 0 ? 0.8 : 1.25, this.#placeOf(svg, event));
      },
      { signal, passive: false },
    );
  }

  /** @param {SVGSVGElement} svg */
  #pxPer(svg) {
    const picture = this.#picture;
    if (!picture) return { x: 1, z: 1 };
    const { frame, x_nm, z_nm, scene } = picture;
    const px = svg.clientWidth / scene.width;
    return {
      x: (1000 * px * (frame[2] - frame[0])) / (x_nm[1] - x_nm[0]),
      z: (px * (frame[3] - frame[1])) / (z_nm[1] - z_nm[0]),
    };
  }

  /**
   * @param {SVGSVGElement} svg
   * @param {MouseEvent} event
   */
  #placeOf(svg, event) {
    return this.#picture && placeIn(svg, this.#picture, event);
  }

  /** The ranges in view. */
  /** @returns {Ranges | null} */
  #shown() {
    if (!this.#picture) return null;
    const { x_nm, z_nm } = this.#picture;
    return { x: [x_nm[0] / 1000, x_nm[1] / 1000], z: [z_nm[0], z_nm[1]] };
  }

  /** @param {string} name */
  #use(name) {
    const shown = this.#shown();
    if (!shown || !this.#view) return;
    const [width, height] = [shown.x[1] - shown.x[0], shown.z[1] - shown.z[0]];
    if (name === "whole") send(this, "view", { x: null, z: null });
    else if (name === "in") this.#zoom(0.5, null);
    else if (name === "out") this.#zoom(2, null);
    else if (name === "left") this.#pan(shown, -0.25 * width, 0);
    else if (name === "right") this.#pan(shown, 0.25 * width, 0);
    else if (name === "up") this.#pan(shown, 0, 0.25 * height);
    else if (name === "down") this.#pan(shown, 0, -0.25 * height);
  }

  /**
   * @param {number} times
   * @param {{ x: number, z: number } | null} around
   */
  #zoom(times, around) {
    const shown = this.#shown();
    if (shown && this.#view) send(this, "view", zoomed(shown, this.#view, times, around));
  }

  /**
   * @param {Ranges} from
   * @param {number} dx in µm
   * @param {number} dz in nm
   */
  #pan(from, dx, dz) {
    send(this, "view", panned(from, this.#view?.width ?? 0, dx, dz));
  }

  /** @param {number} times how much larger heights are drawn than widths; 0: as it fits */
  #exaggerate(times) {
    const shown = this.#shown();
    if (this.#picture && shown) send(this, "view", { z: heightsFor(this.#picture, shown, times) });
  }
}

/** @param {number} um */
function rounded(um) {
  return Number(um.toPrecision(4));
}

/**
 * @param {string} name
 * @param {string} label
 * @param {string} text
 */
function tool(name, label, text) {
  return h("button", { type: "button", "data-tool": name, "aria-label": label }, text);
}

/**
 * @param {string} name
 * @param {string} label
 */
function check(name, label) {
  return h("label", { class: "check" }, h("input", { type: "checkbox", name }), label);
}
