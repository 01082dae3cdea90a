/** Single ions: their tracks show while they fly, and a person can stop them. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";

const visit = useLab();

const IMPLANTER = "#v=1&bench=implanter";
/** So many that a run is still going on when a test gets to it. */
const MANY = `${IMPLANTER}&model=monte_carlo&ions=200000`;

test("ions and seed stand on the form of single ions only", async (t) => {
  const lab = await visit(t, IMPLANTER);
  await lab.openGroups();
  assert.equal(await lab.field("ions").count(), 0);
  await lab.choose("model", "monte_carlo");
  await lab.field("ions").waitFor();
  assert.ok(await lab.field("seed").isVisible());
  await lab.choose("model", "gaussian");
  await lab.field("ions").waitFor({ state: "hidden" });
  await lab.settle();
});

test("tracks and count grow while ions fly, and Cancel keeps what has been computed", async (t) => {
  const lab = await visit(t, MANY, { load: false });
  await lab.flown().waitFor();
  const early = await lab.ionsFlown();
  const tracks = lab.page.locator("lab-picture svg path");
  assert.ok((await tracks.count()) > 0, "tracks are drawn");
  await lab.page.waitForFunction(
    (before) => {
      const text = document.querySelector(".flown")?.textContent ?? "";
      return Number(text.split(" of ")[0]?.replace(/\D/g, "")) > before;
    },
    early,
    { timeout: 30_000 },
  );
  await lab.page.getByRole("button", { name: "Cancel", exact: true }).click();
  await lab.flown().waitFor({ state: "detached" });
  const kept = await lab.result("ions_done");
  assert.ok(kept > early && kept < 200_000, `${kept} ions are kept`);
  assert.ok((await lab.result("projected_range_nm")) > 100);
  const rested = await lab.settle();
  await lab.page.waitForTimeout(300);
  assert.deepEqual(await lab.settle(), rested, "nothing goes on");
});

test("another setting starts the ions anew", async (t) => {
  const lab = await visit(t, MANY, { load: false });
  await lab.flown().waitFor();
  const deep = await lab.result("projected_range_nm");
  await lab.type("energy_kev", "10");
  await lab.page.waitForFunction(
    (before) => {
      const row = document.querySelector('[data-result="projected_range_nm"] output');
      return Number.parseFloat(row?.textContent ?? "") < before / 2;
    },
    deep,
    { timeout: 30_000 },
  );
  await lab.page.getByRole("button", { name: "Cancel", exact: true }).click();
  await lab.flown().waitFor({ state: "detached" });
  await lab.settle();
});

test("the same seed gives the same ions, another seed others", async (t) => {
  const ions = `${IMPLANTER}&model=monte_carlo&ions=300&seed=`;
  const first = await (await visit(t, `${ions}7`)).settle();
  const again = await (await visit(t, `${ions}7`)).settle();
  assert.deepEqual(again, first);
  const other = await (await visit(t, `${ions}8`)).settle();
  assert.notEqual(other.reading, first.reading);
  assert.notEqual(other.picture, first.picture);
});
