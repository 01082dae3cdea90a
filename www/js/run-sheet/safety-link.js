/** The link to the safety sheet of the flow in view: of a shipped one by name, of a changed one as kept. */

import { keepWork } from "./work.js";

/** @typedef {import("./types.js").State} State */

/**
 * @param {{ state: State, subscribe: (listener: (state: State, before: State) => void) => void }} store
 */
export function linkSafetySheet(store) {
  const link = document.getElementById("safety-sheet");
  if (!(link instanceof HTMLAnchorElement)) return;
  const aim = () => {
    const { base, work } = store.state;
    const sheet = work || base === "" ? "mine" : base;
    link.href = `safety.html#${new URLSearchParams({ v: "1", sheet }).toString()}`;
  };
  store.subscribe(aim);
  // What was changed a moment ago goes along.
  link.addEventListener("click", () => {
    if (store.state.work) keepWork(store.state);
  });
  aim();
}
