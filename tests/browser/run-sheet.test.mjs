/**
 * The Run sheet: a flow is stepped to its end, changed and asked again; work survives a reload, a
 * link shows the same picture in a fresh profile, cautions stand open, the keyboard reaches all.
 */

import assert from "node:assert/strict";
import { readFile, readdir } from "node:fs/promises";
import { test } from "node:test";

import { axeSource, useLab } from "./harness.mjs";
import { openSheet } from "./sheet.mjs";
import { eventually } from "./waiting.mjs";

const visit = useLab();
const initScript = await axeSource();

/** @type {(name: string) => Promise<{ steps: { id: string, step: { operation: string } }[] }>} */
const flow = async (name) =>
  JSON.parse(await readFile(new URL(`../../www/flows/${name}.json`, import.meta.url), "utf8"));

test("the capacitor is stepped through to its end by the arrow keys", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor");
  const { steps } = await flow("mos-capacitor");
  await sheet.has(steps.length);
  await sheet.done();
  /** @type {Set<string>} */
  const looks = new Set();
  for (const [k, { id }] of steps.entries()) {
    await sheet.shows(k + 1);
    await sheet.page.locator("#section-name", { hasText: id }).waitFor();
    await sheet.stays(k + 1);
    await sheet.report().locator(".results dd").first().waitFor();
    looks.add(await sheet.look());
    if (k < steps.length - 1) await sheet.page.keyboard.press("ArrowRight");
  }
  assert.ok(looks.size >= 7, `${looks.size} different pictures`);
  const rows = sheet.report().locator(".measurements tr");
  await rows.filter({ hasText: "oxide capacitance per area" }).first().waitFor();
  assert.equal(await sheet.page.locator("sheet-traveller .mark-warnings").count(), 0);
  await sheet.page.waitForURL(/flow=mos-capacitor&step=sinter/);
});

test("the whole inverter runs, every step has its picture, and links lead to benches", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=full-cmos&step=field-oxidation");
  await sheet.done();
  const { steps } = await flow("full-cmos");
  const at = steps.findIndex(({ id }) => id === "field-oxidation");
  await sheet.shows(at + 1);
  for (const state of await sheet.rows().evaluateAll((rows) => rows.map((r) => r.dataset.state))) {
    assert.equal(state, "run");
  }
  const inked = await sheet.rows().evaluateAll((rows) =>
    rows.map((row) => {
      const canvas = row.querySelector("canvas");
      const pixels = canvas?.getContext("2d")?.getImageData(0, 0, canvas.width, canvas.height);
      return pixels?.data.some((value) => value > 0) ?? false;
    }),
  );
  assert.ok(
    inked.every((drawn) => drawn),
    "every thumbnail is drawn",
  );
  const link = sheet.report().getByRole("link", { name: "Open this step in its bench" });
  await eventually(async () =>
    assert.match((await link.getAttribute("href")) ?? "", /bench=furnace/),
  );
  await sheet.scrubber().fill(String(steps.length));
  await sheet.shows(steps.length);
  await sheet.report().locator(".measurements tr").nth(6).waitFor();
  const words = sheet.page.locator("#section-words");
  await words.filter({ hasText: /aluminum/ }).waitFor({ state: "attached" });
});

test("a shorter drive-in of the well shows downstream", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=full-cmos&step=well-drive");
  await sheet.done();
  await sheet.shows(10);
  const before = await sheet.look();
  await sheet.type("time_min", "30");
  await sheet.done();
  await sheet.shows(10);
  await sheet.looksOther(before);
  await sheet.go("sinter");
  const earlier = sheet.report().locator(".earlier li");
  await earlier
    .filter({ hasText: /junction/ })
    .first()
    .waitFor();
  await sheet.page.getByRole("button", { name: "Undo" }).click();
  await sheet.done();
  await sheet.go("well-drive");
  await sheet.looks(before);
});

test("a forgotten strip is warned of at the next bath", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=full-cmos&step=nwell-strip");
  await sheet.shows(8);
  await sheet.page.getByRole("button", { name: "Delete", exact: true }).click();
  await sheet.row("nwell-strip").waitFor({ state: "detached" });
  await sheet.go("c2");
  await sheet
    .warnings()
    .filter({ hasText: /resist goes into piranha/ })
    .waitFor();
  await sheet.row("c2").locator(".mark-warnings").waitFor();
  await sheet.page.keyboard.press("Control+z");
  await sheet.row("nwell-strip").waitFor();
});

test("work is found again after a reload, and erased on request", async (t) => {
  const sheet = await openSheet(visit, t, "");
  await sheet.page.getByRole("button", { name: "Empty wafer" }).click();
  await sheet.page.locator("#insert-operation").selectOption("oxidation");
  await sheet.page.getByRole("button", { name: "Insert below" }).click();
  await sheet.shows(2);
  await sheet.type("temperature_c", "1100");
  await sheet.page.locator("#note").fill("the first oxide");
  await sheet.page.locator("#note").press("Tab");
  await sheet.done();
  const look = await sheet.look();
  await sheet.kept(/1100.*the first oxide/);
  await sheet.page.reload();
  await sheet.shows(2);
  await sheet.holds("temperature_c", "1100");
  await eventually(async () =>
    assert.equal(await sheet.page.locator("#note").inputValue(), "the first oxide"),
  );
  await sheet.looks(look);
  await sheet.page.getByRole("button", { name: "Erase my data" }).click();
  await sheet.row("dots-spin").waitFor();
  await sheet.page.reload();
  await sheet.row("dots-spin").waitFor();
});

test("a link shows the same picture in a fresh profile", async (t) => {
  const here = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await here.done();
  await here.type("time_min", "120");
  await here.done();
  await here.page.locator("#plumb-number").fill("100");
  await here.page.locator("#plumb-number").press("Enter");
  await here.page.getByRole("button", { name: "Zoom in" }).click();
  await here.page.locator("#exaggeration").selectOption("500");
  await here.page.waitForFunction(() => {
    const heights = document.querySelector("#exaggeration");
    return heights instanceof HTMLSelectElement && heights.value === "500";
  });
  const look = await here.look();
  const hash = await here.addressed(/x=100.*from=.*low=.*edit=.*120/);
  assert.ok(hash.length <= 2000);
  const there = await openSheet(visit, t, hash);
  await there.done();
  await there.shows(2);
  await there.looks(look);
  await there.holds("time_min", "120");
  const plumb = there.page.locator("#plumb-number");
  await eventually(async () => assert.equal(await plumb.inputValue(), "100"));
});

test("fifty changes are undone and done again", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await sheet.done();
  for (let k = 0; k < 52; k += 1) {
    await sheet.page.locator("#duplicate").click();
  }
  await sheet.has(62);
  for (let k = 0; k < 52; k += 1) await sheet.page.locator("#undo").click();
  await sheet.has(10);
  await sheet.page.locator("#undo[aria-disabled=true]").waitFor();
  for (let k = 0; k < 52; k += 1) await sheet.page.locator("#redo").click();
  await sheet.has(62);
});

test("a value out of range is refused at its field, and the last section stays", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await sheet.done();
  await sheet.type("temperature_c", "2000");
  const error = sheet.page.locator('sheet-editor [data-field="temperature_c"] .field-error');
  await error.filter({ hasText: /1250/ }).waitFor();
  await sheet.section().waitFor();
  await sheet.type("temperature_c", "1000");
  await error.waitFor({ state: "hidden" });
});

test("hostile links are named and refused", async (t) => {
  const fragment =
    "#v=1&flow=full-cmos<script>&step=nowhere&x=here&doping=maybe&edit={broken&other=1";
  const sheet = await openSheet(visit, t, fragment);
  await eventually(async () => {
    const text = (await sheet.page.locator("#notices").textContent()) ?? "";
    for (const word of ["flow:", "step:", "x:", "doping:", "edit:", "other:"]) {
      assert.ok(text.includes(word), `${word} in ${text}`);
    }
  });
});

/** Steps with a liquid, a powder or a vapor in the open. */
const WET = ["clean", "spin_coating", "development", "resist_strip", "wet_etch"];

for (const { name, options } of [
  { name: "1280 px", options: { width: 1280, height: 800 } },
  { name: "360 px", options: { width: 360, height: 740 } },
]) {
  for (const step of ["c1", "metal", "metal-etch"]) {
    test(`${name}, ${step}: the caution in a line stands above the section, in sight`, async (t) => {
      const sheet = await openSheet(visit, t, `#v=1&flow=mos-capacitor&step=${step}`, options);
      await sheet.done();
      const line = sheet.page.locator("lab-hazard-line");
      await line.locator(".signal").waitFor();
      const at = await line.boundingBox();
      const section = await sheet.section().boundingBox();
      assert.ok(at && section && at.y + at.height <= section.y, "above the section");
      assert.ok(at.y + 40 <= options.height, `in the first screenful: ${at.y} px`);
      const words = await line.locator("p").boundingBox();
      assert.ok(words && words.width <= at.width && words.height <= at.height, "not cut off");
    });
  }

  test(`${name}: cautions of every wet step of every flow stand open, in print too`, async (t) => {
    const files = (await readdir(new URL("../../www/flows/", import.meta.url))).sort();
    assert.equal(files.length, 14);
    const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=c1", options);
    for (const flowName of files.map((file) => file.replace(".json", ""))) {
      const { steps } = await flow(flowName);
      await sheet.page.locator("#flow").selectOption(flowName);
      await sheet.page.waitForFunction(
        ([title, count]) =>
          document.title.startsWith(`${title},`) &&
          document.querySelectorAll("sheet-traveller li").length === count,
        /** @type {const} */ ([flowName, steps.length]),
      );
      for (const [k, { id, step }] of steps.entries()) {
        if (!WET.includes(step.operation)) continue;
        await sheet.row(id).locator("button").click();
        const here = new RegExp(`Step ${k + 1} has not run yet|after step ${k + 1},`);
        await sheet.page.locator("#section-name", { hasText: here }).waitFor();
        // The cautions follow the settings: they do not wait for the step to run.
        const place = `${flowName}, ${id} (${step.operation})`;
        for (const media of /** @type {const} */ ([null, "print"])) {
          await sheet.page.emulateMedia({ media });
          const first = sheet.cautionsOf(k + 1).first();
          await first.waitFor({ timeout: 5000 }).catch(() => assert.fail(`${place}: no caution`));
          assert.ok(await first.locator(".first-aid").isVisible(), place);
        }
        await sheet.page.emulateMedia({ media: null });
        assert.ok(await sheet.page.locator("lab-hazard-line .signal").isVisible(), place);
      }
    }
  });
}

for (const { name, options } of [
  { name: "light", options: { colorScheme: /** @type {const} */ ("light") } },
  { name: "dark", options: { colorScheme: /** @type {const} */ ("dark") } },
  { name: "360 px", options: { width: 360, height: 740 } },
  { name: "forced colors", options: { forcedColors: /** @type {const} */ ("active") } },
]) {
  test(`${name}: no violation, and it fits`, async (t) => {
    const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=metal-etch", {
      ...options,
      initScript,
    });
    await sheet.done();
    await sheet.shows(8);
    await sheet.stays(8);
    assert.ok(await sheet.fitsWidth(), "no sideways scrolling of the page");
    const violations = await sheet.page.evaluate(async () => {
      /** @typedef {{ id: string, help: string, nodes: { target: string[] }[] }} Violation */
      const axe =
        /** @type {{ axe: { run: (node: Document, options: object) => Promise<{ violations: Violation[] }> } }} */ (
          /** @type {unknown} */ (globalThis)
        ).axe;
      const values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
      const found = await axe.run(document, { runOnly: { type: "tag", values } });
      return found.violations.map(
        ({ id, help, nodes }) => `${id}: ${help}: ${nodes.slice(0, 3).map((n) => n.target)}`,
      );
    });
    assert.deepEqual(violations, []);
  });
}

test("all is reached by the keyboard alone", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor");
  await sheet.done();
  /** @param {string} wanted */
  const tabTo = async (wanted) => {
    for (let k = 0; k < 120; k += 1) {
      await sheet.page.keyboard.press("Tab");
      const id = await sheet.page.evaluate(() => document.activeElement?.id ?? "");
      if (id === wanted) return;
    }
    assert.fail(`the Tab key does not reach ${wanted}`);
  };
  await tabTo("scrubber");
  await sheet.page.keyboard.press("ArrowRight");
  await sheet.shows(2);
  await tabTo("plumb");
  const before = await sheet.page.locator("sheet-place h3").textContent();
  await sheet.page.keyboard.press("ArrowRight");
  await sheet.page.waitForFunction(
    (text) => document.querySelector("sheet-place h3")?.textContent !== text,
    before,
  );
  await tabTo("step-time_min");
  await sheet.page.keyboard.press("ArrowUp");
  await sheet.done();
  await sheet.page.waitForFunction(
    () => document.querySelector("#undo")?.getAttribute("aria-disabled") === "false",
  );
  await sheet.page
    .locator("[role=status]")
    .filter({ hasText: /Step 2 of 10/ })
    .waitFor();
});

test("the section is read: its words stand behind it", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=metal");
  await sheet.shows(3);
  const words = sheet.page.locator("#section-words");
  await words.filter({ hasText: /aluminum on 50.* nm of thermal oxide/ }).waitFor({
    state: "attached",
  });
  const svg = sheet.page.locator("sheet-section svg").first();
  assert.equal(await svg.getAttribute("aria-describedby"), "section-words");
});
