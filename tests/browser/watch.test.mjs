/** The watch over console and requests is itself tested: a watch that sees nothing proves nothing. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";

const visit = useLab();

/**
 * Asserts that exactly the expected was noticed, and forgives it.
 * @param {import("./lab.mjs").Lab} lab
 * @param {RegExp} expected
 */
async function noticed(lab, expected) {
  for (let k = 0; k < 40 && !lab.complaints.some((one) => expected.test(one)); k += 1) {
    await lab.page.waitForTimeout(50);
  }
  assert.ok(
    lab.complaints.some((one) => expected.test(one)),
    `${expected} was not noticed`,
  );
  lab.complaints.length = 0;
}

test("a word on the console is noticed", async (t) => {
  const lab = await visit(t);
  await lab.page.evaluate(() => console.debug("a word"));
  await noticed(lab, /console debug: a word/);
});

test("an error that nobody catches is noticed", async (t) => {
  const lab = await visit(t);
  await lab.page.evaluate(() => {
    setTimeout(() => {
      throw new Error("uncaught");
    });
  });
  await noticed(lab, /uncaught/);
});

test("a foreign request of the page is noticed, and refused by the page's own policy", async (t) => {
  const lab = await visit(t);
  const refused = await lab.page.evaluate(() =>
    fetch("http://elsewhere.invalid/").then(
      () => false,
      () => true,
    ),
  );
  assert.ok(refused);
  await noticed(lab, /elsewhere\.invalid/);
});

test("a foreign request of the worker is noticed", async (t) => {
  const lab = await visit(t, "", {
    prepare: (page) =>
      page.route("**/js/worker.js", async (route) => {
        const response = await route.fetch();
        const spy = 'fetch("http://elsewhere.invalid/").catch(() => undefined);';
        await route.fulfill({ response, body: `${await response.text()}\n${spy}` });
      }),
  });
  await noticed(lab, /request: http:\/\/elsewhere\.invalid/);
});
