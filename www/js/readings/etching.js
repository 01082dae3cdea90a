/** Readings of the steps that take a film away. */

import { number, quantity, significant, spoken } from "../format.js";
import { big } from "./parts.js";

/** @typedef {import("../readings.js").Results} Results */
/** @typedef {import("../readings.js").Big} Big */

/** @param {Results} r */
export function wetEtch(r) {
  const remaining = number(r, "remaining_nm") ?? 0;
  const clear = number(r, "time_to_clear_s");
  const everywhere = number(r, "time_to_clear_everywhere_s");
  const time = number(r, "time_s") ?? 0;
  const over = number(r, "over_etch_percent");
  const material = spoken(String(r["material"] ?? "film"));
  let notice = `This bath does not etch ${material}: choose another one.`;
  if (clear !== null && remaining > 0) {
    notice = `Not clear yet: ${quantity(clear - time, "s", 2)} more and the film is gone, if film and rate are the nominal ones.`;
  } else if (clear !== null && everywhere !== null && time < everywhere) {
    notice = `The nominal film is gone, but the thickest, slowest spot needs ${quantity(everywhere, "s")}: that is what an over-etch is for.`;
  } else if (clear !== null) {
    notice =
      "Clear everywhere. Every second more moves both edges outward: an isotropic etch takes sideways what it takes down.";
  }
  const opening = number(r, "opening_um");
  const line = number(r, "line_um");
  /** @type {Big[]} */
  const left = [];
  if (opening !== null) left.push(big(r, "Opening at the top", "opening_um", "µm"));
  else if (line !== null) {
    left.push(big(r, "Line left at the top", "line_um", "µm", (v) => (v === 0 ? "gone" : "")));
  }
  return {
    big: [
      big(r, "Film left", "remaining_nm", "nm", (v) =>
        v === 0 && over !== null
          ? `cleared, over-etch ${quantity(over, "%", 2)}`
          : `${quantity(number(r, "etched_nm") ?? 0, "nm")} gone`,
      ),
      big(r, "Time to clear", "time_to_clear_s", "s"),
      big(r, "Undercut on each side", "undercut_nm", "nm"),
      ...left,
      big(r, "Etch rate", "rate_nm_min", "nm/min"),
    ],
    notice,
  };
}

/** @param {Results} r */
export function dryEtch(r) {
  const remaining = number(r, "remaining_nm") ?? 0;
  const clear = number(r, "time_to_clear_s") ?? 0;
  const time = number(r, "time_s") ?? 0;
  const fence = number(r, "step_left_nm");
  const loss = number(r, "stop_layer_loss_nm") ?? 0;
  const stop = spoken(String(r["stop"] ?? "layer below"));
  const film = spoken(String(r["material"] ?? "film"));
  const sideways = number(r, "lateral_nm") ?? 0;
  let notice =
    sideways > 0
      ? `Clear, but this plasma also goes sideways: each edge of the film lies ${quantity(sideways, "nm", 2)} below the mask. Every second more costs ${stop}.`
      : `Clear, and as wide as the mask: ions fall straight down. Every second more costs ${stop}.`;
  if (remaining > 0) {
    notice = `Not clear yet: ${quantity(clear - time, "s", 2)} more at the nominal rate. The band shows how far etchers differ.`;
  } else if (fence !== null && fence > 0) {
    notice = `The end point has come, but a fence of ${film} stands at the step: seen from above the film is thicker there. Only an over-etch takes it, and ${stop} pays for it.`;
  } else if (fence !== null) {
    notice = `The step is clean. While the fence was etched away, ${quantity(loss, "nm", 2)} of ${stop} went on flat ground.`;
  } else if (loss === 0) {
    notice = `Just clear: ${stop} is still whole.`;
  }
  const line = number(r, "line_um");
  /** @type {Big[]} */
  const left = [];
  if (fence !== null) left.push(big(r, "Fence at the step", "step_left_nm", "nm"));
  if (number(r, "opening_um") !== null) left.push(big(r, "Opening", "opening_um", "µm"));
  if (line !== null) {
    left.push(big(r, "Line left", "line_um", "µm", (v) => (v === 0 ? "gone" : "")));
  }
  const mask = number(r, "mask_nm");
  if (mask !== null) {
    left.push(
      big(r, "Mask lost", "mask_loss_nm", "nm", (v) =>
        v < mask ? `of ${quantity(mask, "nm")} of resist` : "more than there was",
      ),
    );
  }
  return {
    big: [
      big(r, "Film left", "remaining_nm", "nm", (v) =>
        v === 0 ? "cleared" : `${quantity(number(r, "etched_nm") ?? 0, "nm")} gone`,
      ),
      big(r, "Lost below", "stop_layer_loss_nm", "nm", () => `of ${stop}`),
      big(r, "Time to clear", "time_to_clear_s", "s", () => "the flat film"),
      ...left,
      big(r, "Sideways under the mask", "lateral_nm", "nm", (v) =>
        v === 0 ? "upright walls" : "",
      ),
    ],
    notice,
  };
}

/** @param {Results} r */
export function resistStrip(r) {
  const left = number(r, "remaining_nm") ?? 0;
  const attacked = r["attacked"];
  let notice =
    left > 0
      ? "Resist is left: strip longer. Half a film of resist in a furnace is carbon in the tube."
      : "Gone, if it was soft: resist that was implanted or etched in plasma has a hard crust.";
  if (Array.isArray(attacked) && attacked.length > 0) {
    notice = `This strip does not stop at the resist: with ${attacked.map((a) => spoken(String(a?.material))).join(" and ")} on the wafer take another one.`;
  }
  return {
    big: [
      big(r, "Resist left", "remaining_nm", "nm"),
      big(r, "Removed", "removed_nm", "nm"),
      big(r, "Time to clear", "time_to_clear_min", "min"),
      big(r, "Rate", "rate_nm_min", "nm/min"),
    ],
    notice,
  };
}

/** @param {Results} r */
export function planarization(r) {
  const step = number(r, "step_height_nm") ?? 0;
  const before = number(r, "initial_step_height_nm") ?? 0;
  const level = number(r, "time_to_level_s");
  const time = number(r, "time_s") ?? 0;
  const left = number(r, "remaining_nm") ?? 0;
  const share = number(r, "dense_fraction") ?? 1;
  let notice = "On a flat wafer the pad takes the same everywhere: pressure times speed.";
  if (left <= 0 && r["stop"]) {
    notice =
      "The stop layer is bare and holds the pad up: it goes slowly, and that is all the time there is.";
  } else if (left <= 0) {
    notice = "The film over the high places is gone: what lies below is polished now.";
  } else if (before > 0 && step > 0 && level !== null) {
    notice = `Only the high places touch the pad: they carry the load on ${significant(100 * share, 2)}\u202f% of the area and go faster for it. Level in ${quantity(level - time, "s", 2)}.`;
  } else if (before > 0) {
    notice =
      "Level. From now on the pad takes high and low places alike: it thins the film and gains nothing.";
  }
  return {
    big: [
      big(r, "Step left", "step_height_nm", "nm", () =>
        before > 0 ? `of ${quantity(before, "nm")}` : "flat from the start",
      ),
      big(r, "Film on the high places", "remaining_nm", "nm"),
      big(r, "Film on average", "mean_thickness_nm", "nm"),
      big(r, "Time to level", "time_to_level_s", "s"),
      big(r, "Rate of a flat wafer", "rate_nm_min", "nm/min"),
    ],
    notice,
  };
}
