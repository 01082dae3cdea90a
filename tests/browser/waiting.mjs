/**
 * Waiting for what a test asserts: a page answers in its next frame or after its worker, and how
 * long that takes is the machine's affair. No test sleeps for a while and hopes.
 */

import assert from "node:assert/strict";

/** @typedef {import("playwright-core").Page} Page */

/** A busy machine may take so long over what takes a moment on an idle one. */
const PATIENCE_MS = 15_000;

/**
 * Repeats assertions until they hold; where they do not come to hold, fails with the last one.
 * @template T
 * @param {() => Promise<T>} asserted
 * @param {number} [patience] in ms
 * @returns {Promise<T>} what they gave when they held
 */
export async function eventually(asserted, patience = PATIENCE_MS) {
  const end = performance.now() + patience;
  for (;;) {
    try {
      return await asserted();
    } catch (thrown) {
      if (performance.now() > end) throw thrown;
    }
    await new Promise((resolve) => setTimeout(resolve, 40));
  }
}

/**
 * Waits until something looks as it did.
 * @param {() => Promise<string>} look
 * @param {string} before
 */
export async function looksAs(look, before) {
  await eventually(async () => assert.equal(await look(), before, "the look"));
}

/**
 * Waits until something looks different, and gives its look.
 * @param {() => Promise<string>} look
 * @param {string} before
 */
export async function looksOtherThan(look, before) {
  return eventually(async () => {
    const now = await look();
    assert.notEqual(now, before, "the look");
    return now;
  });
}

/**
 * Waits until what an input has changed is drawn: a frame that was asked for before is over when
 * the second one from here begins.
 * @param {Page} page
 */
export async function frames(page) {
  await page.evaluate(
    () =>
      new Promise((resolve) =>
        requestAnimationFrame(() => requestAnimationFrame(() => resolve(undefined))),
      ),
  );
}

/**
 * Waits until no worker of the page owes it an answer, and what came is drawn. Runs that nobody in
 * view waits for, such as a pinned one, are not counted.
 * @param {Page} page
 * @param {{ looks?: boolean, patience?: number }} [how] whether a first look at a run that goes on
 *   is an answer; how long to wait, in ms
 */
export async function answered(page, { looks = false, patience = PATIENCE_MS } = {}) {
  // What came last may have led to the next question.
  for (let quiet = 0; quiet < 2;) {
    await frames(page);
    const owed = () => page.evaluate((some) => Reflect.get(globalThis, "owed")(some), looks);
    if ((await owed()) === 0) {
      quiet += 1;
      continue;
    }
    quiet = 0;
    await page.waitForFunction((some) => Reflect.get(globalThis, "owed")(some) === 0, looks, {
      timeout: patience,
    });
  }
}

/**
 * JavaScript that runs before a page's own: it listens to what goes to workers and comes back, so
 * that a test can tell a page at rest from one whose answer is late.
 */
export const LISTEN = `(${listen})();`;

function listen() {
  /** @typedef {{ kind?: string, id?: number, generation?: number }} Message */
  /** @type {Map<Worker, Set<string>>} what each owes */
  const owed = new Map();
  /** @type {Set<string>} runs of which there was a look */
  const looked = new Set();
  Reflect.set(
    globalThis,
    "owed",
    (/** @type {boolean} */ looks) =>
      [...owed.values()].flatMap((debts) => [...debts]).filter((one) => !looks || !looked.has(one))
        .length,
  );
  if (typeof Worker !== "function") return;
  /** @param {Worker} worker */
  const debts = (worker) => {
    const known = owed.get(worker);
    if (known) return known;
    /** @type {Set<string>} */
    const fresh = new Set();
    owed.set(worker, fresh);
    worker.addEventListener("message", (event) => {
      const { kind, id, generation } = /** @type {Message} */ (event.data ?? {});
      if (kind === "answer" || kind === "unanswered") fresh.delete(`ask ${id}`);
      else if (kind === "done" || kind === "refused") fresh.delete(`run ${generation}`);
      else if (kind === "progress") looked.add(`run ${generation}`);
      else if (kind === "broken") fresh.clear();
    });
    worker.addEventListener("error", () => fresh.clear());
    return fresh;
  };
  const { postMessage, terminate } = Worker.prototype;
  Worker.prototype.postMessage = function (
    /** @type {Message} */ order,
    /** @type {unknown[]} */ ...rest
  ) {
    if (order?.kind === "ask") debts(this).add(`ask ${order.id}`);
    else if (order?.kind === "run" || order?.kind === "flow") {
      // Of runs only the latest is answered.
      for (const debt of [...debts(this)]) if (debt.startsWith("run")) debts(this).delete(debt);
      debts(this).add(`run ${order.generation}`);
    }
    return Reflect.apply(postMessage, this, [order, ...rest]);
  };
  Worker.prototype.terminate = function () {
    owed.delete(this);
    terminate.call(this);
  };
}
