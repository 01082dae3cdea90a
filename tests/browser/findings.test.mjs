/**
 * The known mistakes of a setting on its bench: what stops stands first, open, in print and said to
 * who listens; the same bench without the mistake stays silent.
 */

import assert from "node:assert/strict";
import { test } from "node:test";

import { axeSource, useLab } from "./harness.mjs";

const visit = useLab();
const initScript = await axeSource();

/**
 * A rule, a bench on which its settings break it, and the same bench without. Rules over handling
 * (vessels, pouring, company) and over other neighbors than a `start` have no setting on a bench.
 */
const CASES = [
  {
    rule: "hydrogen_below_ignition",
    fires: "bench=furnace&ambient=wet&temperature_c=750",
    silent: "bench=furnace&ambient=wet&temperature_c=1000",
  },
  {
    rule: "hydrogen_below_ignition",
    fires: "bench=furnace&ambient=steam&temperature_c=780",
    silent: "bench=furnace&ambient=dry&temperature_c=780",
  },
  {
    rule: "hydrogen_below_ignition",
    fires: "bench=diffusion-tube&operation=drive_in&ambient=wet&temperature_c=790",
    silent: "bench=diffusion-tube&operation=drive_in&ambient=wet&temperature_c=1100",
  },
  {
    rule: "hydrogen_without_purge",
    fires:
      "bench=diffusion-tube&operation=anneal&start=predeposition&start.dopant=phosphorus&ambient=forming_gas",
    silent:
      "bench=diffusion-tube&operation=anneal&start=predeposition&start.dopant=phosphorus&ambient=inert",
  },
  {
    rule: "hf_heated",
    fires: "bench=wet-bench&etchant=bhf_6_1&material=thermal_oxide&bath=given&temperature_c=45",
    silent: "bench=wet-bench&etchant=bhf_6_1&material=thermal_oxide&bath=given&temperature_c=21",
  },
  {
    rule: "solvent_heated",
    fires: "bench=wet-bench&etchant=acetone&material=resist&bath=given&temperature_c=45",
    silent: "bench=wet-bench&etchant=acetone&material=resist&bath=given&temperature_c=21",
  },
  {
    rule: "piranha_too_hot",
    fires: "bench=wet-bench&etchant=piranha&material=resist&bath=given&temperature_c=140",
    silent: "bench=wet-bench&etchant=piranha&material=resist&bath=given&temperature_c=120",
  },
  {
    rule: "resist_into_piranha",
    fires: "bench=dry-etcher&operation=resist_strip&method=piranha&thickness_nm=1000",
    silent: "bench=dry-etcher&operation=resist_strip&method=piranha&thickness_nm=30",
  },
  {
    rule: "metal_into_piranha",
    fires: "bench=wet-bench&etchant=piranha&material=aluminum",
    silent: "bench=wet-bench&etchant=aluminum_etch&material=aluminum",
  },
  {
    rule: "metal_into_base_or_hydrochloric_acid",
    fires: "bench=wet-bench&etchant=koh_30&material=aluminum",
    silent: "bench=wet-bench&etchant=koh_30&material=silicon",
  },
];

/** @param {import("./lab.mjs").Lab} lab */
const found = (lab) => lab.page.locator("lab-caution .findings li");

for (const { rule, fires, silent } of CASES) {
  test(`${rule} on ${fires.split("&")[0]}: it fires, and is silent without`, async (t) => {
    const lab = await visit(t, `#v=1&${fires}`, { load: false });
    const mistake = lab.page.locator(`lab-caution .findings li[data-rule="${rule}"]`);
    await mistake.waitFor();
    assert.ok(await mistake.isVisible(), "it stands open");
    const text = await mistake.innerText();
    assert.match(text, /^(stop|check)/i);
    assert.ok(text.length > 100, `what, why and what to do instead: ${text}`);
    assert.equal(
      await mistake.evaluate((item) => item.closest("[aria-live=assertive]") !== null),
      true,
      "said at once to who listens",
    );
    const line = await lab.page.locator("lab-hazard-line").innerText();
    const worst = await found(lab).first().locator("strong").nth(1).innerText();
    assert.ok(line.includes(worst), "the worst one is in the line above the bench");
    await lab.page.evaluate((hash) => (location.hash = hash), `#v=1&${silent}`);
    await mistake.waitFor({ state: "detached" });
    await lab.cautions().first().waitFor();
  });
}

test("what stops stands before what is to be checked", async (t) => {
  const lab = await visit(
    t,
    "#v=1&bench=wet-bench&etchant=piranha&material=resist&bath=given&temperature_c=140",
    {
      load: false,
    },
  );
  await found(lab).nth(1).waitFor();
  const grades = await found(lab).evaluateAll((items) => items.map((item) => item.className));
  assert.deepEqual(grades, [...grades].sort().reverse(), grades.join());
  assert.equal(grades[0], "stop");
});

for (const bench of ["spinner", "aligner", "developer", "deposition", "polisher", "implanter"]) {
  test(`${bench}: no setting of this bench is a known mistake, and nothing is shown`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench}`);
    await lab.cautions().first().waitFor();
    assert.equal(await found(lab).count(), 0);
    assert.equal((await lab.page.locator(".caution-found").innerText()).trim(), "");
  });
}

for (const { name, options } of [
  { name: "light", options: { colorScheme: /** @type {const} */ ("light") } },
  { name: "dark at 360 px", options: { colorScheme: /** @type {const} */ ("dark"), width: 360 } },
]) {
  test(`${name}: a mistake fits, is printed and has no violation`, async (t) => {
    const lab = await visit(t, "#v=1&bench=wet-bench&etchant=bhf_6_1&bath=given&temperature_c=45", {
      height: 800,
      ...options,
      initScript,
    });
    await found(lab).first().waitFor();
    assert.ok(await lab.fitsWidth());
    const violations = await lab.page.evaluate(async () => {
      /** @typedef {{ id: string, nodes: { target: string[] }[] }} Violation */
      const axe =
        /** @type {{ axe: { run: (where: string, options: object) => Promise<{ violations: Violation[] }> } }} */ (
          /** @type {unknown} */ (globalThis)
        ).axe;
      const values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
      const result = await axe.run("lab-caution", { runOnly: { type: "tag", values } });
      return result.violations.map(({ id, nodes }) => `${id}: ${nodes.map((n) => n.target)}`);
    });
    assert.deepEqual(violations, []);
    await lab.page.emulateMedia({ media: "print" });
    await lab.page.evaluate(() => window.dispatchEvent(new Event("beforeprint")));
    assert.ok(await found(lab).first().isVisible(), "printed");
  });
}
