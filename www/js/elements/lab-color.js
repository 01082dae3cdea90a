import { h, rebuild, s, setText } from "../dom.js";
import { quantity } from "../format.js";
import { LabElement } from "./lab-element.js";

/** @typedef {{ thickness_nm: number, name: string }} Named */
/** @typedef {{ strip: { thickness_nm: number[], srgb_hex: string[], names: Named[] } }} Look */
/** @typedef {{ thickness: number, color: { srgb_hex: string, name: string }, look: Look,
 *   light: string }} ColorView */

/** Width and height of the strip in its own units. */
const WIDTH = 600;
const HEIGHT = 44;
/** Names shown beside the present one, on each side. */
const BESIDE = 2;

/**
 * The colors that a film has from nothing to thick, with the present thickness marked and the
 * names of the published chart.
 */
export class LabColor extends LabElement {
  build() {
    this.append(
      h(
        "figure",
        { class: "color-figure" },
        h("figcaption", {}, "Color against thickness"),
        h(
          "div",
          { class: "picture-frame" },
          s(
            "svg",
            {
              class: "color-strip",
              viewBox: `0 0 ${WIDTH} ${HEIGHT + 20}`,
              role: "img",
              "aria-labelledby": "color-text",
            },
            s("g", { class: "color-cells" }),
            s("g", { class: "color-ticks" }),
            s("path", { class: "color-mark" }),
          ),
          h("ol", { class: "color-names" }),
        ),
        h("p", { class: "soft", id: "color-text" }),
        h(
          "details",
          {},
          h("summary", {}, "All names of the published chart"),
          h(
            "p",
            { class: "soft" },
            "W. A. Pliskin and E. E. Conrad, IBM J. Res. Dev. 8, 43 (1964): thermal oxide seen from above under daylight fluorescent lamps. The colors are computed for the light chosen here.",
          ),
          h("ol", { class: "color-names all" }),
        ),
      ),
    );
  }

  /** @param {ColorView | null} view */
  render(view) {
    this.hidden = view === null;
    if (!view) {
      setText(this.querySelector("#color-text"), "");
      return;
    }
    const { thickness, color, look, light } = view;
    const { thickness_nm: at, srgb_hex: colors, names } = look.strip;
    const last = at[at.length - 1] ?? 1;
    const across = (/** @type {number} */ nm) => (WIDTH * nm) / last;
    const cells = this.querySelector(".color-cells");
    const ticks = this.querySelector(".color-ticks");
    if (cells instanceof SVGElement && ticks instanceof SVGElement) {
      const stamp = `${last} ${colors.join("")}`;
      if (cells.dataset["stamp"] !== stamp) {
        cells.dataset["stamp"] = stamp;
        cells.replaceChildren(...colors.map((hex, k) => cell(hex, k, colors.length)));
        ticks.replaceChildren(...marks(last, across));
      }
    }
    const x = across(Math.min(thickness, last));
    this.querySelector(".color-mark")?.setAttribute(
      "d",
      `M${x} 0V${HEIGHT}M${x - 6} 0H${x + 6}L${x} 8Z`,
    );
    const nearest = nearestTo(names, thickness);
    const near = names.slice(Math.max(0, nearest - BESIDE), nearest + BESIDE + 1);
    const shown = this.querySelector(".color-names");
    const all = this.querySelector(".color-names.all");
    const item = (/** @type {Named} */ entry) =>
      named(entry, colorAt(at, colors, entry.thickness_nm), entry === names[nearest]);
    if (shown instanceof HTMLElement) {
      shown.hidden = names.length === 0;
      rebuild(shown, `${light} ${near.map((n) => n.thickness_nm).join()}`, () => near.map(item));
    }
    if (all instanceof HTMLElement) {
      const details = all.closest("details");
      if (details) details.hidden = names.length === 0;
      rebuild(all, `${light} ${last} ${nearest}`, () => names.map(item));
    }
    setText(
      this.querySelector("#color-text"),
      `${quantity(thickness, "nm")} looks ${color.name === "" ? color.srgb_hex : color.name}, seen in ${light}, to an eye used to the gray of bare silicon. The strip runs from 0 to ${quantity(last, "nm")}.`,
    );
  }
}

/**
 * @param {string} hex
 * @param {number} k
 * @param {number} count
 */
function cell(hex, k, count) {
  const step = WIDTH / (count - 1);
  const from = Math.max(0, (k - 0.5) * step);
  // A hair wider than its place, so that no seam shows between neighbors.
  const rect = s("rect", { x: from, y: 8, width: step + 0.6, height: HEIGHT - 8 });
  rect.style.fill = hex;
  return rect;
}

/**
 * @param {number} last
 * @param {(nm: number) => number} across
 */
function marks(last, across) {
  const step = last > 2500 ? 1000 : last > 1300 ? 500 : 200;
  const out = [];
  for (let nm = 0; nm <= last; nm += step) {
    const anchor = nm === 0 ? "start" : nm === last ? "end" : "middle";
    const text = s("text", { x: across(nm), y: HEIGHT + 14, "text-anchor": anchor });
    text.textContent = nm === 0 ? "0 nm" : String(nm);
    out.push(text);
  }
  return out;
}

/**
 * @param {Named} entry
 * @param {string} hex
 * @param {boolean} present
 */
function named(entry, hex, present) {
  const swatch = h("span", { class: "swatch", "aria-hidden": "true" });
  swatch.style.backgroundColor = hex;
  return h(
    "li",
    present ? { "aria-current": "true" } : {},
    swatch,
    h("span", { class: "swatch-at" }, `${entry.thickness_nm.toFixed(0)} nm`),
    ` ${entry.name}`,
  );
}

/**
 * @param {number[]} at
 * @param {string[]} colors
 * @param {number} nm
 */
function colorAt(at, colors, nm) {
  const last = at[at.length - 1] ?? 1;
  return colors[Math.round((nm / last) * (colors.length - 1))] ?? "transparent";
}

/**
 * @param {Named[]} names
 * @param {number} nm
 */
function nearestTo(names, nm) {
  let best = 0;
  names.forEach((entry, k) => {
    const known = names[best];
    if (known && Math.abs(entry.thickness_nm - nm) < Math.abs(known.thickness_nm - nm)) best = k;
  });
  return best;
}
