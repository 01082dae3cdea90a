/** Readings of the developer. */

import { number, quantity, significant } from "../format.js";
import { big } from "./parts.js";

/** Shortest way past clearing that a process is run with, in percent (common practice). */
const SAFE_PERCENT = 20;

/** @param {import("../readings.js").Results} r */
export function development(r) {
  const nominal = number(r, "nominal_um");
  const bottom = number(r, "cd_bottom_um");
  const top = number(r, "cd_top_um");
  const side = number(r, "sidewall_deg");
  const clear = number(r, "time_to_clear_s");
  const time = number(r, "time_s") ?? 0;
  const past = number(r, "over_develop_percent");
  const left = number(r, "residue_nm") ?? 0;
  const loss = number(r, "loss_nm") ?? 0;
  const remaining = number(r, "remaining_nm") ?? 0;
  const edge = number(r, "edge_shift_um");
  const isLine =
    r["pattern"] === "line_space" ||
    (r["pattern"] === "isolated_line") === (r["tone"] === "positive");
  const what = isLine ? "Line" : "Opening";
  let notice = "";
  if (remaining <= 1) {
    notice = "Nothing is left: the resist that should stay has gone too.";
  } else if (past === null && clear !== null) {
    notice = `Under-developed: ${quantity(left, "nm", 2)} of scum in the opening. It needs ${quantity(clear - time, "s", 2)} more.`;
  } else if (past === null) {
    notice = `The front has all but stopped ${quantity(left, "nm", 2)} above the bottom: more dose helps, more time does not.`;
  } else if (loss > 0.1 * (remaining + loss)) {
    notice = `${significant((100 * loss) / (remaining + loss), 2)}\u202f% of the resist is gone where it should stay: light has come there, or the developer is too strong.`;
  } else if (past < SAFE_PERCENT) {
    notice =
      "Clear just now. The next wafer is a little thicker or colder: a process goes on past clearing.";
  } else if (side !== null && side > 91) {
    notice = "The walls hang over: below the top the resist dissolves faster.";
  } else if (side !== null && side < 84) {
    notice =
      "The walls lean: where the image fades slowly, the developer stops later the deeper it comes.";
  } else {
    notice =
      "The front rushes down where there was light and then creeps sideways: after clearing, time changes the width slowly and dose changes it fast.";
  }
  return {
    big: [
      ...(edge === null
        ? [
            big(r, `${what} at the bottom`, "cd_bottom_um", "µm", (v) =>
              nominal === null
                ? ""
                : `${quantity(1000 * Math.abs(v - nominal), "nm", 2)} ${v < nominal ? "narrower" : "wider"} than drawn`,
            ),
            big(r, `${what} at half height`, "cd_middle_um", "µm"),
            big(r, `${what} near the top`, "cd_top_um", "µm", () =>
              top !== null && bottom !== null
                ? `${quantity(1000 * Math.abs(bottom - top), "nm", 2)} ${bottom > top ? "narrower" : "wider"} than at the bottom`
                : "",
            ),
          ]
        : [big(r, "Wall from the drawn edge", "edge_shift_um", "µm")]),
      big(r, "Walls", "sidewall_deg", "°", (v) => (v > 90 ? "they hang over" : "90° is upright")),
      big(r, "Time to clear", "time_to_clear_s", "s", () =>
        past === null ? "not reached" : `developed ${quantity(past, "%", 2)} longer`,
      ),
      big(r, "Loss where resist stays", "loss_nm", "nm"),
      ...(left > 0 ? [big(r, "Left in the opening", "residue_nm", "nm")] : []),
      big(r, "A wide field clears in", "open_clear_s", "s"),
    ],
    notice,
  };
}
