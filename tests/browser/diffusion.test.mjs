/** The Diffusion tube: both steps on one screen, recipes side by side, sources, and the climb. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";

const visit = useLab();
const BENCH = "#v=1&bench=diffusion-tube";

/**
 * @param {import("./lab.mjs").Lab} lab
 * @param {string} path
 * @param {string} word
 */
async function choose(lab, path, word) {
  await lab.field(path).locator("select").selectOption(word);
}

/** @param {import("./lab.mjs").Lab} lab */
function rows(lab) {
  return lab.page.locator("lab-reading .compared tbody tr");
}

test("the sets of diffusivities stand side by side and follow the slider", async (t) => {
  const lab = await visit(t, `${BENCH}&operation=predeposition`);
  assert.equal(await rows(lab).count(), 0);
  const before = await lab.settle();
  await choose(lab, "compare", "models");
  await lab.changed(before, ["reading", "plot"]);
  await lab.settle();
  assert.equal(await rows(lab).count(), 3);
  assert.match((await lab.page.locator("#plot-name").textContent()) ?? "", /set of diffusivities/);
  const cells = await rows(lab).first().locator("td").allTextContents();
  await lab.drag("temperature_c", 0.8);
  await lab.settle();
  assert.notDeepEqual(await rows(lab).first().locator("td").allTextContents(), cells);
  await choose(lab, "compare", "nothing");
  await rows(lab).first().waitFor({ state: "detached" });
});

test("a deep well: arsenic and antimony stay behind phosphorus", async (t) => {
  const lab = await visit(t, `${BENCH}&operation=drive_in`);
  await lab.page.locator("details.presets summary").click();
  await lab.page.getByRole("button", { name: /deep well/ }).click();
  await rows(lab).nth(2).waitFor();
  await lab.settle();
  const depths = new Map();
  for (const row of await rows(lab).all()) {
    const name = await row.locator("th").textContent();
    depths.set(name, Number((await row.locator("td").nth(1).textContent()) ?? "NaN"));
  }
  assert.ok(depths.get("phosphorus") > 2 * depths.get("arsenic"), JSON.stringify([...depths]));
  assert.ok(depths.get("phosphorus") > 2 * depths.get("antimony"));
});

test("predeposition and drive-in are set on one screen", async (t) => {
  const lab = await visit(t, `${BENCH}&operation=drive_in`);
  for (const path of ["start.temperature_c", "start.time_min", "temperature_c", "time_min"]) {
    const before = await lab.settle();
    assert.ok(await lab.slider(path).isVisible(), path);
    await lab.drag(path, 0.7);
    await lab.changed(before, ["reading", "plot"]);
  }
});

test("the profile of earlier times stands in the data and in words", async (t) => {
  const lab = await visit(t, `${BENCH}&operation=predeposition`);
  assert.match((await lab.page.locator("#plot-text").textContent()) ?? "", /Thin curves: after/);
  await lab.page.locator("lab-plot details.data summary").click();
  await lab.page
    .locator("lab-plot .tables th", { hasText: /^after/ })
    .nth(4)
    .waitFor();
  const heads = await lab.page.locator("lab-plot .tables th").allTextContents();
  assert.equal(heads.filter((text) => /^after .* min/.test(text)).length, 5, heads.join());
});

test("a source has its hazards, and phosphorus its mask", async (t) => {
  const lab = await visit(t, `${BENCH}&operation=predeposition`);
  await choose(lab, "dopant", "phosphorus");
  await lab.settle();
  const mask = lab.page.locator("lab-reading [data-result=mask_oxide_min_nm] output");
  assert.match((await mask.textContent()) ?? "", /nm/);
  assert.match(await lab.cautions().first().innerText(), /oxychloride/);
  await choose(lab, "dopant", "arsenic");
  await lab.settle();
  assert.match((await lab.cautions().allInnerTexts()).join(), /Arsenic oxide/);
  await lab.page.locator("input[data-mode=supply][value=film]").check();
  await lab.field("glass.thickness_nm").waitFor();
  const before = await lab.settle();
  await lab.drag("glass.concentration_cm3", 0.4);
  await lab.changed(before, ["reading"]);
});
