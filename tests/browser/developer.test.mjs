/** Spinner, hot plate and developer: what they say follows what is set. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";

const visit = useLab();

/** @param {import("./lab.mjs").Lab} lab */
const said = (lab) => lab.page.locator("lab-reading").innerText();

test("too short a time leaves scum, and more time clears it", async (t) => {
  const lab = await visit(t, "#v=1&bench=developer&time_s=8");
  assert.match(await said(lab), /under-developed: .* of scum/i);
  const before = await lab.settle();
  await lab.type("time_s", "60");
  await lab.changed(before);
  assert.doesNotMatch(await said(lab), /scum/i);
  assert.match(await lab.page.locator("lab-picture").innerText(), /the opening is clear/i);
});

test("without a bake after the exposure the link keeps the bake off", async (t) => {
  const lab = await visit(t, "#v=1&bench=developer&baked=no&exposure.dose_mj_cm2=220");
  const picture = await lab.page.locator("lab-picture").innerText();
  assert.match(picture, /after 60 s in the developer/i);
  assert.ok(await lab.page.locator("input[data-mode=baked][value=no]").isChecked());
});

test("TMAH stands open as a danger, and says what it does through the skin", async (t) => {
  const lab = await visit(t, "#v=1&bench=developer");
  const cautions = await lab.page.locator("lab-caution").innerText();
  assert.match(cautions, /danger/i);
  assert.match(cautions, /TMAH/);
  assert.match(cautions, /skin/i);
});

test("a film is thinner over a step, and primer brings its cautions", async (t) => {
  const lab = await visit(t, "#v=1&bench=spinner&ground=step&adhesion=primed");
  assert.match(await said(lab), /thinner than beside it/i);
  assert.match(await lab.page.locator("lab-caution").innerText(), /HMDS/);
});

test("a cool, short bake leaves the film soft", async (t) => {
  const lab = await visit(t, "#v=1&bench=spinner&operation=bake&temperature_c=75&time_s=30");
  assert.match(await said(lab), /still soft/i);
});
