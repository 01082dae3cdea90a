/** Dry etcher and polisher: what they say follows what is set. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";

const visit = useLab();

test("a step leaves a fence at the end point, and the over-etch takes it", async (t) => {
  const lab = await visit(t, "#v=1&bench=dry-etcher&step_height_nm=250&time_s=100");
  const notice = () => lab.page.locator("lab-reading").innerText();
  assert.match(await notice(), /fence of polysilicon stands at the step/i);
  const before = await lab.settle();
  await lab.type("time_s", "165");
  await lab.changed(before);
  assert.match(await notice(), /step is clean/i);
});

test("fluorine goes sideways where bromine does not", async (t) => {
  const upright = await visit(t, "#v=1&bench=dry-etcher&time_s=90");
  assert.match(await upright.page.locator("lab-reading").innerText(), /upright walls/i);
  const round = await visit(t, "#v=1&bench=dry-etcher&time_s=90&chemistry=sf6");
  assert.doesNotMatch(await round.page.locator("lab-reading").innerText(), /upright walls/i);
});

test("a level wafer says so", async (t) => {
  const lab = await visit(t, "#v=1&bench=polisher&time_s=60");
  assert.match(await lab.page.locator("lab-reading").innerText(), /only the high places/i);
  const before = await lab.settle();
  await lab.type("time_s", "140");
  await lab.changed(before);
  assert.match(await lab.page.locator("lab-reading").innerText(), /level/i);
});

test("KOH on silicon draws sloping walls that meet", async (t) => {
  const lab = await visit(
    t,
    "#v=1&bench=wet-bench&material=silicon&etchant=koh_30&thickness_nm=20000&mask.opening_um=10&time_s=1800",
  );
  const picture = await lab.page.locator("lab-picture").innerText();
  assert.match(picture + (await lab.page.locator("main").innerText()), /walls meet/i);
});
