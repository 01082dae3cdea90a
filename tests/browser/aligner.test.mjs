/** The Aligner: its tools and masks, what it hands on, and a process window that can be watched. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";

const visit = useLab();

/**
 * What the reading says, on one line.
 * @param {import("./lab.mjs").Lab} lab
 */
async function reading(lab) {
  return (await lab.page.locator("lab-reading").innerText()).replace(/\s+/g, " ");
}

for (const printing of ["projection", "proximity", "contact"]) {
  for (const drawing of ["line_space", "isolated_line", "isolated_space", "edge", "openings"]) {
    test(`${printing}, ${drawing}: answers with an image`, async (t) => {
      const lab = await visit(t, `#v=1&bench=aligner&printing=${printing}&drawing=${drawing}`);
      assert.match(await reading(lab), /Image contrast [01]\.\d+/);
      assert.equal(await lab.page.locator("lab-reading .card.wrong").count(), 0);
    });
  }
}

test("the tools ask for what they have", async (t) => {
  const lab = await visit(t, "#v=1&bench=aligner");
  assert.ok(await lab.number("defocus_um").isVisible());
  await lab.page.getByLabel("proximity: a gap").check();
  await lab.settle();
  assert.ok(await lab.number("gap_um").isVisible());
  assert.equal(await lab.page.locator("[data-field=defocus_um]:visible").count(), 0);
  assert.doesNotMatch(await reading(lab), /Depth of focus/);
});

test("a stack and a list of openings come back from a link", async (t) => {
  const lab = await visit(
    t,
    "#v=1&bench=aligner&drawing=openings&mask.polarity=clear_field&mask.openings_um[0][0]=-2" +
      "&below=two&stack_below[0].material=nitride&stack_below[0].thickness_nm=150" +
      "&stack_below[1].thickness_nm=31&stack_below[1].material=thermal_oxide",
  );
  assert.equal(await lab.number("mask.openings_um[0][0]").inputValue(), "-2");
  assert.match(await lab.page.locator("lab-picture").innerText(), /Section under/);
  const labels = await lab.page.locator("lab-picture svg").textContent();
  assert.match(labels ?? "", /nitride 150 nm/i);
  assert.match(labels ?? "", /thermal oxide 31 nm/i);
});

test("the swing curves come when they are asked for", async (t) => {
  const lab = await visit(t, "#v=1&bench=aligner&swings=both");
  const charts = await lab.page.locator("lab-plot option").allInnerTexts();
  assert.ok(
    charts.some((text) => /Resist: swing/.test(text)),
    charts.join(),
  );
  assert.ok(
    charts.some((text) => /Oxide below the resist: swing/.test(text)),
    charts.join(),
  );
});

test("the exposure is carried into the Developer", async (t) => {
  const lab = await visit(t, "#v=1&bench=aligner&dose_mj_cm2=123&mask.pitch_um=2&printing=contact");
  const link = lab.page.locator("#carry");
  assert.ok(await link.isVisible());
  const address = new URLSearchParams((await link.getAttribute("href"))?.slice(1));
  assert.equal(address.get("bench"), "developer");
  assert.equal(address.get("exposure.dose_mj_cm2"), "123");
  assert.equal(address.get("exposure.mask.pitch_um"), "2");
  assert.equal(address.get("printing"), "contact");
  await lab.follow("#v=1&bench=furnace");
  await link.waitFor({ state: "hidden" });
});

test("a process window shows rows before it is whole, and can be cancelled", async (t) => {
  const lab = await visit(t, "#v=1&bench=aligner&operation=process_window&doses=21&focuses=21");
  const flown = lab.flown();
  await flown.waitFor();
  await lab.page.getByRole("button", { name: "Cancel" }).click();
  await flown.waitFor({ state: "hidden" });
  const early = await lab.page.locator("lab-plot").innerText();
  assert.match(early, /\d+ of 441 points are computed/);
});

test("a whole process window takes at most two seconds and says its range", async (t) => {
  const lab = await visit(t, "#v=1&bench=aligner&operation=process_window");
  const start = Date.now();
  await lab.drag("exposure.dose_mj_cm2", 0.63);
  await lab.flown().waitFor();
  await lab.flown().waitFor({ state: "hidden" });
  t.diagnostic(`${Date.now() - start} ms`);
  assert.ok(Date.now() - start < 4000, "two seconds, twice that on a busy machine");
  assert.match(await reading(lab), /Depth of focus [\d.]+ µm/);
});
