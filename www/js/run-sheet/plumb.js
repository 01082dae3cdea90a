/** Where the plumb line hangs in a picture of a section, and what place a pointer means. */

import { s } from "../dom.js";

/** @typedef {import("./types.js").SectionPicture} SectionPicture */

/**
 * Hangs the line where it belongs in a picture.
 * @param {SVGGElement} line
 * @param {SectionPicture | null} picture
 * @param {number} um
 */
export function hang(line, picture, um) {
  if (!picture) return;
  const { frame, x_nm } = picture;
  const [left, top, right, bottom] = frame;
  const share = (1000 * um - x_nm[0]) / (x_nm[1] - x_nm[0]);
  // There is no place for it until the width of the section is known.
  if (!(share >= 0 && share <= 1)) {
    line.replaceChildren();
    return;
  }
  const x = left + share * (right - left);
  line.replaceChildren(
    s("path", { class: "line s-halo", d: `M${x} ${top}V${bottom}` }),
    s("path", {
      class: "line plumb-line",
      d: `M${x} ${top - 4}V${bottom + 6}`,
    }),
  );
}

/**
 * The place under a pointer, x in µm and z in nm; null outside the section.
 * @param {SVGSVGElement} svg
 * @param {SectionPicture} picture
 * @param {MouseEvent} event
 */
export function placeIn(svg, { frame, x_nm, z_nm, scene }, event) {
  const box = svg.getBoundingClientRect();
  const px = box.width / scene.width;
  const across = ((event.clientX - box.left) / px - frame[0]) / (frame[2] - frame[0]);
  const down = ((event.clientY - box.top) / px - frame[1]) / (frame[3] - frame[1]);
  if (across < 0 || across > 1 || down < 0 || down > 1) return null;
  return {
    x: (x_nm[0] + across * (x_nm[1] - x_nm[0])) / 1000,
    z: z_nm[1] - down * (z_nm[1] - z_nm[0]),
  };
}
