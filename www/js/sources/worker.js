/**
 * Asks for published values off the page: `{ family, checks }` gives `{ outcomes }` several times,
 * then `{ done: family }`, or `{ failed: family, reason }`.
 */

import { ask } from "./ask.js";

self.addEventListener("message", async (event) => {
  const { family, checks } = event.data;
  try {
    await ask(family, checks, async (outcomes) => self.postMessage({ family, outcomes }));
    self.postMessage({ family, done: true });
  } catch (thrown) {
    const reason = thrown instanceof Error ? thrown.message : String(thrown);
    self.postMessage({ family, reason });
  }
});

export {};
