/** A tour of the place: a panel beside each part of it, one thing to try at each. */

import { h, setText } from "../dom.js";

/** @typedef {{ target: string, title: string, text: string, attempt: string }} Stop */

/** @type {readonly Stop[]} */
const STOPS = [
  {
    target: "sheet-traveller",
    title: "The traveller",
    text: "Every step of the process, each with the wafer as the step leaves it.",
    attempt: "Choose a step in the list.",
  },
  {
    target: ".steps-bar",
    title: "From step to step",
    text: "The slider goes through the process, and so do the arrow keys.",
    attempt: "Press the right arrow key a few times.",
  },
  {
    target: "sheet-section .section-frame",
    title: "The section",
    text: "The wafer cut along the line A to A′. Heights are drawn larger than widths; how much is written below. What the step changed has an amber outline.",
    attempt: "Zoom in with the + button below it.",
  },
  {
    target: ".plumb-control",
    title: "The plumb line",
    text: "It hangs at one place of the wafer and reads the layers and the doping there.",
    attempt: "Move its slider, then look at the table of layers.",
  },
  {
    target: "sheet-layout",
    title: "The masks",
    text: "The chip from above, with the levels that are printed so far and the line of the section.",
    attempt: "Compare an edge of a mask with the section.",
  },
  {
    target: "sheet-report",
    title: "The report",
    text: "What the step did, in numbers, and its warnings. After the last step it also measures the finished wafer.",
    attempt: "Open this step in its bench to see its curves.",
  },
  {
    target: "sheet-editor",
    title: "The settings",
    text: "Change a time or a temperature: the steps from there on run again. Undo takes it back.",
    attempt: "Make a time half as long.",
  },
  {
    target: ".sheet > .cautions",
    title: "The cautions",
    text: "What could hurt somebody at this step of a real process. In a real lab your site's rules, the supplier's safety data sheet and trained staff decide.",
    attempt: "Read what must never be done.",
  },
  {
    target: ".compare-bar",
    title: "Two runs",
    text: "Pin a run, change something, and read what differs at every step after it.",
    attempt: "Choose Pin this run, then change a setting.",
  },
];

/** Room between the panel and its target, and to the border of the screen, in px. */
const GAP_PX = 12;
/** On a screen narrower than this the panel stands at the bottom, in px. */
const NARROW_PX = 640;

/** The tour that is under way. */
/** @type {(() => void) | null} */
let end = null;

/** @param {HTMLElement | null} opener where the focus goes at the end */
export function showAround(opener) {
  end?.();
  let at = 0;
  /** @type {HTMLElement | null} */
  let target = null;
  const listening = new AbortController();
  const { signal } = listening;

  const title = h("h2", { id: "tour-title", tabindex: "-1" });
  const words = h("p", {});
  const attempt = h("p", { class: "tour-try" });
  const count = h("span", { class: "soft" });
  const back = h("button", { type: "button" }, "Back");
  const next = h("button", { type: "button", class: "main" }, "Next");
  const close = h("button", { type: "button" }, "Close");
  const panel = h(
    "div",
    {
      class: "tour",
      role: "dialog",
      "aria-labelledby": "tour-title",
      "aria-describedby": "tour-text",
    },
    title,
    h("div", { id: "tour-text" }, words, attempt),
    h("p", { class: "buttons" }, count, back, next, close),
  );

  function place() {
    if (!target) return;
    if (window.innerWidth < NARROW_PX) {
      panel.style.removeProperty("inset-inline-start");
      panel.style.removeProperty("inset-block-start");
      return;
    }
    const box = target.getBoundingClientRect();
    const own = panel.getBoundingClientRect();
    const most = window.innerHeight - own.height - GAP_PX;
    const right = window.innerWidth - own.width - GAP_PX;
    // Below the target, above it, beside it, or over its lower right corner.
    const beside = box.right + GAP_PX;
    let [x, y] = [box.left, box.bottom + GAP_PX];
    if (y > most) y = box.top - own.height - GAP_PX;
    if (y < GAP_PX) [x, y] = [beside, Math.max(box.top, GAP_PX)];
    if (x > right) x = y === Math.max(box.top, GAP_PX) ? right : Math.min(box.left, right);
    panel.style.setProperty("inset-inline-start", `${Math.max(GAP_PX, Math.min(x, right))}px`);
    panel.style.setProperty("inset-block-start", `${Math.max(GAP_PX, Math.min(y, most))}px`);
  }

  /** @param {number} stop */
  function go(stop) {
    const here = STOPS[stop];
    if (!here) return;
    at = stop;
    target?.classList.remove("tour-target");
    const found = document.querySelector(here.target);
    target = found instanceof HTMLElement ? found : null;
    target?.classList.add("tour-target");
    setText(title, here.title);
    setText(words, here.text);
    setText(attempt, `Try: ${here.attempt}`);
    setText(count, `${stop + 1} of ${STOPS.length}`);
    // Not disabled: a button that loses the focus takes it along.
    back.setAttribute("aria-disabled", String(stop === 0));
    setText(next, stop === STOPS.length - 1 ? "Done" : "Next");
    const tall = (target?.offsetHeight ?? 0) > 0.6 * window.innerHeight;
    const narrow = window.innerWidth < NARROW_PX;
    target?.scrollIntoView({ block: tall || narrow ? "start" : "center", behavior: "instant" });
    place();
    title.focus({ preventScroll: true });
  }

  function finish() {
    listening.abort();
    target?.classList.remove("tour-target");
    const inside = panel.contains(document.activeElement);
    panel.remove();
    document.body.classList.remove("touring");
    end = null;
    if (inside || document.activeElement === document.body) opener?.focus();
  }
  end = finish;

  back.addEventListener("click", () => at > 0 && go(at - 1), { signal });
  next.addEventListener("click", () => (at < STOPS.length - 1 ? go(at + 1) : finish()), { signal });
  close.addEventListener("click", finish, { signal });
  document.addEventListener(
    "keydown",
    (event) => {
      if (event.key !== "Escape") return;
      event.preventDefault();
      finish();
    },
    { signal },
  );
  window.addEventListener("resize", place, { signal });
  window.addEventListener("scroll", place, { signal, passive: true });
  // Beside the place's parts in the order of the Tab key: after the last of them.
  document.querySelector("main")?.append(panel);
  document.body.classList.add("touring");
  go(0);
}
