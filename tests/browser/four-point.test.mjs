/** The Four-point bench: sliders, a pasted table, and its mistakes in words. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";

const visit = useLab();

/** @param {import("./lab.mjs").Lab} lab */
function table(lab) {
  return lab.field("profile.csv").locator("textarea");
}

test("a pasted table gives a sheet resistance, a junction and a picture", async (t) => {
  const lab = await visit(t, "#v=1&bench=four-point&start=csv");
  const before = await lab.settle();
  // A box of 1e18 boron atoms per cm3, 1 um deep, over n silicon: Rs = 1/(q 159.7 1e14) = 391.
  await table(lab).fill("depth_nm;boron_cm3\n0;1,0e18\n999;1e18\n1000;1e14\n1100;1e12\n");
  await lab.changed(before);
  await lab.settle();
  assert.match(await lab.page.locator("lab-reading").innerText(), /39\d\s*Ω\/□/);
  assert.match(await lab.page.locator("lab-reading").innerText(), /(0\.99\d|1\.00)\s*µm/);
});

test("a wrong table says line and column beside the field", async (t) => {
  const lab = await visit(t, "#v=1&bench=four-point&start=csv");
  await table(lab).fill("depth_um,boron_cm3\n0,1e18\n0.5,many\n");
  const error = lab.fieldError("profile.csv");
  await error.waitFor();
  assert.match(await error.innerText(), /line 3, column 2 \(boron_cm3\): many is not a number/i);
  assert.equal(await table(lab).getAttribute("aria-invalid"), "true");
  await table(lab).fill("depth_um,boron_cm3\n0,1e18\n0.5,1e14\n");
  await error.waitFor({ state: "hidden" });
});

test("dose and current move the reading", async (t) => {
  const lab = await visit(t, "#v=1&bench=four-point");
  const before = await lab.settle();
  await lab.drag("start.gaussian.dose_cm2", 0.5);
  await lab.changed(before);
  const middle = await lab.settle();
  await lab.drag("current_ma", 0.3);
  // The current changes what the probes read, not the profile.
  await lab.changed(middle, ["reading", "picture"]);
});

test("a bare wafer of 10 ohm cm reads its resistivity over its thickness", async (t) => {
  const lab = await visit(
    t,
    "#v=1&bench=four-point&start=bare&substrate.resistivity_ohm_cm=10&wafer_thickness_um=500",
  );
  await lab.settle();
  assert.match(await lab.page.locator("lab-reading").innerText(), /200\s*Ω\/□/);
});
