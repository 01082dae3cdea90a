/**
 * Two runs of a flow beside each other on the Run sheet, lists of fields in its editor, the wafer
 * that a bench is opened with, and the tour of the place.
 */

import assert from "node:assert/strict";
import { test } from "node:test";

import { axeSource, useLab } from "./harness.mjs";
import { openSheet } from "./sheet.mjs";
import { eventually } from "./waiting.mjs";

const visit = useLab();
const initScript = await axeSource();

/** @typedef {Awaited<ReturnType<typeof openSheet>>} Sheet */

/** Another run beside it takes as long again. */
const WHOLE_MS = 180_000;

/**
 * The row of a table of the comparison, as the texts of its cells.
 * @param {Sheet} sheet
 * @param {string} part the class of the table's place
 * @param {RegExp} quantity
 */
async function row(sheet, part, quantity) {
  const found = sheet.page.locator(`.${part} tbody tr`).filter({ hasText: quantity }).first();
  await found.waitFor({ timeout: WHOLE_MS });
  return found.locator("th, td").allTextContents();
}

/**
 * The number at the beginning of a cell.
 * @param {string | undefined} cell
 */
function number(cell) {
  return Number(
    (cell ?? "")
      .replace("−", "-")
      .replace(/[\s\u202f]/g, "")
      .match(/^[+-]?[\d.]+/)?.[0],
  );
}

/** @param {Sheet} sheet */
async function violations(sheet) {
  return sheet.page.evaluate(async () => {
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
}

test("a shorter drive-in of the well is followed to the finished wafer", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=short-cmos&step=well-drive");
  await sheet.done();
  await sheet.page.keyboard.press("Alt+p");
  await sheet.page
    .locator("#compare-words")
    .filter({ hasText: /as shipped/ })
    .waitFor();
  await sheet.type("time_min", "160");
  await sheet.done();
  await eventually(async () => {
    const [, setting, before, after] = await row(sheet, "compare-settings", /well-drive/);
    assert.deepEqual([setting, before, after], ["Time", "480\u00a0min", "160\u00a0min"]);
  });
  await sheet.go("sinter");
  await eventually(async () => {
    const [name, a, b, difference] = await row(
      sheet,
      "compare-finished",
      /bottom of the well.*VDD/,
    );
    assert.match(name ?? "", /junction depth/);
    assert.ok(number(a) > 3 && number(b) > 1 && number(a) > number(b) + 0.5, `${a} ${b}`);
    assert.ok(Math.abs(number(b) - number(a) - number(difference)) < 0.02, difference);
  });
  await eventually(async () => {
    const largest = await row(sheet, "compare-step", /^junction depth/);
    assert.ok(number(largest[1]) > number(largest[2]));
  });
  // The place that a row names is where the plumb line hangs next.
  await sheet.page.locator(".compare-step [data-x]").first().click();
  const x = await sheet.page.locator(".compare-step [data-x]").first().getAttribute("data-x");
  await sheet.page.waitForFunction((wanted) => {
    const field = document.querySelector("#plumb-number");
    return (
      field instanceof HTMLInputElement && Math.abs(Number(field.value) - Number(wanted)) < 0.1
    );
  }, x);
  await sheet.page
    .locator("#plot-text")
    .filter({ hasText: /Pinned for comparison: A/ })
    .waitFor();
  // With the sections alike again there is nothing to tell.
  await sheet.page.getByRole("button", { name: "Take A back" }).click();
  await sheet.page
    .locator(".compare-settings")
    .filter({ hasText: /A and B are the same flow/ })
    .waitFor();
  await sheet.page
    .locator(".compare-finished")
    .filter({ hasText: /^.*All \d+/ })
    .waitFor();
  await sheet.page.getByRole("button", { name: "Undo" }).click();
  await eventually(async () =>
    assert.deepEqual(await row(sheet, "compare-settings", /160/), [
      "10 well-drive",
      "Time",
      "480\u00a0min",
      "160\u00a0min",
    ]),
  );
  await sheet.done();
});

test("two sections to one scale, with one plumb line, outlined against each other", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await sheet.done();
  const { page } = sheet;
  await page.getByRole("button", { name: "Pin this run" }).click();
  await sheet.type("time_min", "240");
  await sheet.done();
  await page.getByLabel("Both sections").check();
  const words = page.locator("#pinned-name").filter({ hasText: /A, pinned: section after step 2/ });
  await words.waitFor();
  await sheet.look();
  await eventually(async () => {
    const looks = await page.evaluate(() =>
      ["sheet-pinned", "sheet-section"].map((tag) => {
        const svg = document.querySelector(`${tag} svg`);
        const line = svg?.querySelector(".plumb-line")?.getAttribute("d") ?? "";
        return {
          box: svg?.getAttribute("viewBox"),
          line: line.split("V")[0],
          bars: [...(svg?.querySelectorAll("text") ?? [])]
            .map((text) => text.textContent ?? "")
            .filter((text) => /^\d+ [nµ]m$|times as large/.test(text)),
          outlines: svg?.querySelectorAll(".s-halo").length,
          oxide: [...(svg?.querySelectorAll("text") ?? [])].find((text) =>
            text.textContent?.startsWith("thermal oxide"),
          )?.textContent,
        };
      }),
    );
    const [one, other] = looks;
    assert.ok(one && other);
    assert.deepEqual([one.box, one.line, one.bars], [other.box, other.line, other.bars]);
    assert.ok(one.bars.length >= 3, one.bars.join());
    // One halo is that of the plumb line.
    assert.ok((one.outlines ?? 0) > 1 && (other.outlines ?? 0) > 1);
    assert.notEqual(one.oxide, other.oxide);
  });
  const since = page.getByLabel("Changes since");
  await eventually(async () => assert.equal(await since.inputValue(), "pinned"));
  const against = await sheet.look();
  await since.selectOption("step");
  await sheet.looksOther(against);
  await since.selectOption("off");
  await page.waitForFunction(
    () => document.querySelectorAll("sheet-section svg > g:first-of-type .s-halo").length === 0,
  );
  await page.getByRole("button", { name: "Unpin" }).click();
  await page.locator("sheet-pinned").waitFor({ state: "hidden" });
  await page.waitForFunction(() => document.activeElement?.id === "pin-run");
});

test("a pinned run is found again after a reload, and in a link", async (t) => {
  const here = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await here.done();
  await here.type("time_min", "90");
  await here.done();
  await here.page.keyboard.press("Alt+p");
  await here.type("time_min", "240");
  await here.done();
  await here.page.getByLabel("Both sections").check();
  const hash = await here.addressed(/both=on.*240.*pin=/);
  assert.ok(hash.length <= 2000);
  const there = await openSheet(visit, t, hash);
  for (const sheet of [here, there]) {
    if (sheet === here) await sheet.page.reload();
    await sheet.shows(2);
    await eventually(async () =>
      assert.deepEqual((await row(sheet, "compare-settings", /gate/)).slice(2), [
        "90\u00a0min",
        "240\u00a0min",
      ]),
    );
    await sheet.page.locator("sheet-pinned svg path").first().waitFor();
    await eventually(async () => {
      const oxide = await row(sheet, "compare-step", /thermal oxide/);
      assert.ok(number(oxide[1]) > 50 && number(oxide[2]) > number(oxide[1]) + 20, oxide.join());
    });
  }
  // What does not fit says so; this browser still has it, another one has not.
  await here.page.locator("#compare-file").setInputFiles({
    name: "long.json",
    mimeType: "application/json",
    buffer: Buffer.from(
      JSON.stringify({
        ...(await here.page.evaluate(() =>
          fetch("flows/diffused-resistor.json").then((r) => r.json()),
        )),
        title: "Resistor of another class",
      }),
    ),
  });
  await here.page
    .locator("#compare-words")
    .filter({ hasText: /another class/ })
    .waitFor();
  await here.page.waitForURL(/pin=kept/);
  await here.page.reload();
  await here.page
    .locator("#compare-words")
    .filter({ hasText: /another class/ })
    .waitFor();
  const stranger = await openSheet(visit, t, await here.addressed(/pin=kept/));
  await stranger.page
    .locator("#notices")
    .filter({ hasText: /leaves the pinned run out/ })
    .waitFor();
  assert.equal(await stranger.page.locator(".compare-zone").isVisible(), false);
  // A link without a pinned run shows none; what was erased does not come back.
  await here.page.getByRole("button", { name: "Erase my data" }).click();
  await here.row("dots-spin").waitFor();
  await here.addressed(/^(?!.*pin=)/);
  await here.page.reload();
  await here.row("dots-spin").waitFor();
  assert.equal(await here.page.locator(".compare-zone").isVisible(), false);
});

test("a faulty flow stands beside the good one, and a step that only one has is named", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await sheet.done();
  await sheet.page.getByLabel("Compare with").selectOption("diffused-resistor");
  const words = sheet.page.locator("#compare-words");
  await words.filter({ hasText: /The sections are .* long/ }).waitFor({ timeout: WHOLE_MS });
  await sheet.page.getByLabel("Compare with").selectOption("mos-capacitor");
  await sheet.page.locator("#insert-operation").selectOption("clean");
  await sheet.page.getByRole("button", { name: "Insert below" }).click();
  await words
    .filter({ hasText: /Only B has the step clean: A is shown after its step 2, gate/ })
    .waitFor();
  await row(sheet, "compare-settings", /no such step/);
  await sheet.go("metal");
  await words.filter({ hasText: /^[^.]*\. B: the flow as it is now\.$/ }).waitFor();
  await sheet.page.getByRole("button", { name: "Undo" }).click();
  await sheet.go("gate");
  await sheet.page.getByRole("button", { name: "Delete", exact: true }).click();
  await row(sheet, "compare-settings", /A: 2 gate/);
});

test("questions are answered while the pinned run is still computed", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await sheet.done();
  await sheet.page.getByLabel("Compare with").selectOption("short-cmos");
  await sheet.page
    .locator("#compare-words")
    .filter({ hasText: /steps of A are computed/ })
    .waitFor();
  const before = await sheet.page.locator("sheet-place h3").textContent();
  await sheet.page.locator("#plumb-number").fill("123");
  await sheet.page.locator("#plumb-number").press("Enter");
  await sheet.page.waitForFunction(
    (text) => document.querySelector("sheet-place h3")?.textContent !== text,
    before,
    { timeout: 5000 },
  );
  // A change goes first: the pinned run waits for it.
  await sheet.type("time_min", "61");
  await sheet.done();
  await sheet.page.waitForFunction(
    () => !/steps of A/.test(document.querySelector("#compare-words")?.textContent ?? ""),
    null,
    { timeout: WHOLE_MS },
  );
});

test("a recipe becomes segments, and each is changed, moved and refused by itself", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await sheet.done();
  const { page } = sheet;
  await page.getByText("More fields, as the model has them").click();
  const begin = page.getByRole("button", { name: "Change to: recipe in segments" });
  await begin.focus();
  await page.keyboard.press("Enter");
  const rows = page.locator("sheet-editor .list-row");
  await rows.nth(0).waitFor();
  await page.waitForFunction(() => document.activeElement?.tagName === "SELECT");
  await sheet.holds("segments[0].time_min", "60");
  await sheet.number("time_min").waitFor({ state: "detached" });
  await sheet.done();
  const look = await sheet.look();
  await page.getByRole("button", { name: "Add a segment" }).click();
  await rows.nth(1).waitFor();
  await rows.nth(1).locator("select").selectOption("wet");
  await sheet.type("segments[1].time_min", "20");
  await sheet.done();
  await sheet.looksOther(look);
  await sheet
    .row("gate")
    .filter({ hasText: /2 segments/ })
    .waitFor();
  await sheet.type("segments[1].temperature_c", "500");
  const error = page.locator('sheet-editor [data-field="segments[1].temperature_c"] .field-error');
  await error.filter({ hasText: /600/ }).waitFor();
  assert.equal(
    await page
      .locator('sheet-editor [data-field="segments[0].temperature_c"] .field-error')
      .isVisible(),
    false,
  );
  await sheet.type("segments[1].temperature_c", "950");
  await error.waitFor({ state: "hidden" });
  await page.getByRole("button", { name: "Move segment 2 up" }).click();
  await page.waitForFunction(() => {
    const field = document.querySelector('[data-field="segments[0].temperature_c"] input');
    return field instanceof HTMLInputElement && field.value === "950";
  });
  await rows
    .nth(0)
    .getByRole("button", { name: /Add: furnace temperature at the end/ })
    .click();
  await sheet.type("segments[0].end_temperature_c", "1000");
  await sheet.done();
  await page.getByRole("button", { name: "Leave out: Furnace temperature at the end" }).click();
  await page.getByRole("button", { name: "Remove segment 2" }).click();
  await rows.nth(1).waitFor({ state: "detached" });
  assert.equal(await rows.count(), 1);
  await page.getByRole("button", { name: "Undo" }).click();
  await rows.nth(1).waitFor();
  await page.getByRole("button", { name: "One part again" }).click();
  await rows.first().waitFor({ state: "detached" });
  await sheet.holds("temperature_c", "950");
  await sheet.holds("time_min", "20");
  await sheet.done();
});

test("ramps are given and left out as a whole", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=sinter");
  await sheet.done();
  await sheet.page.getByText("More fields, as the model has them").click();
  await sheet.page.getByRole("button", { name: "Add: ramps before and after" }).click();
  await sheet.number("ramp.up_c_s").waitFor();
  await sheet.page.waitForFunction(() => document.activeElement?.id === "step-ramp-start_c");
  await sheet.done();
  await sheet.page.getByRole("button", { name: "Leave out: Ramps before and after" }).click();
  await sheet.number("ramp.up_c_s").waitFor({ state: "detached" });
  await sheet.done();
});

test("a bench opens with the wafer that the step finds under the plumb line", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=metal-etch");
  await sheet.done();
  await sheet.shows(8);
  const link = sheet.report().getByRole("link", { name: "Open this step in its bench" });
  await sheet.page
    .locator(".to-bench")
    .filter({ hasText: /wafer of the step before/ })
    .waitFor();
  const address = async () =>
    new URLSearchParams(((await link.getAttribute("href")) ?? "").split("#")[1]);
  await eventually(async () => assert.equal((await address()).get("material"), "aluminum"));
  await sheet.go("dots-strip");
  await sheet.page.waitForFunction(() =>
    document.querySelector(".to-bench a")?.getAttribute("href")?.includes("thickness_nm"),
  );
  // The film that the table of layers has, before the strip, is what the bench is opened with.
  const nm = Number((await address()).get("thickness_nm"));
  await sheet.go("metal-etch");
  const resist = sheet.page.locator("sheet-place .layers tr").filter({ hasText: /^resist/ });
  await resist.waitFor();
  await eventually(async () => {
    const um = Number((await resist.locator("td").textContent())?.replace(/[^\d.]/g, ""));
    assert.ok(Math.abs(nm / 1000 - um) < 0.01, `${nm} ${um}`);
  });
  await sheet.go("dots-expose");
  await sheet.page.waitForFunction(() =>
    document.querySelector(".to-bench a")?.getAttribute("href")?.includes("stack_below"),
  );
  assert.equal((await address()).get("below"), "two");
  await link.click();
  await sheet.page.waitForURL(/bench=aligner/);
  await sheet.page.locator("lab-reading dd, lab-reading .big").first().waitFor({ timeout: 60_000 });
  assert.equal(await sheet.page.locator("#notices p, .notices p").count(), 0);
});

for (const { name, options } of [
  { name: "light", options: {} },
  { name: "dark", options: { colorScheme: /** @type {const} */ ("dark") } },
  { name: "360 px", options: { width: 360, height: 740 } },
  { name: "forced colors", options: { forcedColors: /** @type {const} */ ("active") } },
]) {
  test(`${name}: no violation while comparing and in the tour, and it fits`, async (t) => {
    const sheet = await openSheet(
      visit,
      t,
      '#v=1&flow=mos-capacitor&step=gate&both=on&edit={"s":{"gate":{"time_min":240}}}&pin={}',
      { ...options, initScript },
    );
    await sheet.done();
    await row(sheet, "compare-finished", /oxide capacitance/);
    await row(sheet, "compare-step", /thermal oxide/);
    await sheet.page.locator("#tour-offer").waitFor();
    assert.ok(await sheet.fitsWidth(), "no sideways scrolling of the page");
    assert.deepEqual(await violations(sheet), []);
    await sheet.page.getByText("More fields, as the model has them").click();
    await sheet.page.getByRole("button", { name: "Change to: recipe in segments" }).click();
    await sheet.page.locator(".list-row").first().waitFor();
    // The short confirmation of that is not a part of the page.
    await sheet.page.locator(".flash").waitFor({ state: "hidden" });
    await sheet.page.locator("#take-tour").click();
    await sheet.page.locator(".tour").waitFor();
    assert.ok(await sheet.fitsWidth(), "no sideways scrolling of the page");
    assert.deepEqual(await violations(sheet), []);
  });
}

for (const { name, options } of [
  { name: "1280 px", options: {} },
  { name: "360 px", options: { width: 360, height: 740 } },
]) {
  test(`${name}: the tour is taken by the keyboard and is not offered again`, async (t) => {
    const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate", options);
    await sheet.done();
    const { page } = sheet;
    const around = page.getByRole("button", { name: "Show me around" }).first();
    await page.locator("#tour-offer").waitFor();
    await around.focus();
    await page.keyboard.press("Enter");
    const panel = page.getByRole("dialog");
    /** @type {Set<string>} */
    const titles = new Set();
    for (let k = 1; k <= 9; k += 1) {
      await panel.filter({ hasText: `${k} of 9` }).waitFor();
      await page.waitForFunction(() => document.activeElement?.id === "tour-title");
      const title = (await panel.getByRole("heading").textContent()) ?? "";
      titles.add(title);
      await eventually(async () =>
        assert.equal(await page.locator(".tour-target").count(), 1, title),
      );
      const seen = () =>
        page.evaluate(() => {
          const [panel, target] = [".tour", ".tour-target"].map((selector) =>
            document.querySelector(selector)?.getBoundingClientRect(),
          );
          if (!panel || !target) return "missing";
          const inside = (/** @type {DOMRect} */ box) =>
            box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
          const whole = panel.top >= 0 && panel.bottom <= innerHeight && panel.right <= innerWidth;
          const above = target.top < panel.top || target.bottom > panel.bottom;
          const beside = target.left < panel.left || target.right > panel.right;
          return whole && inside(target) && (above || beside)
            ? "seen"
            : JSON.stringify([panel, target]);
        });
      // The panel follows a scroll of the page in a later frame.
      await eventually(async () => assert.equal(await seen(), "seen", title));
      if (k === 3) {
        await page.keyboard.press("ArrowRight");
        await sheet.shows(3);
      }
      if (k < 9) {
        await page.keyboard.press("Tab");
        await page.keyboard.press("Tab");
        assert.equal(await page.evaluate(() => document.activeElement?.textContent), "Next");
        await page.keyboard.press("Enter");
      }
    }
    assert.equal(titles.size, 9);
    await page.keyboard.press("Escape");
    await panel.waitFor({ state: "detached" });
    await page.locator(".tour-target").waitFor({ state: "detached" });
    await page.waitForFunction(() => document.activeElement?.id === "show-around");
    await page.reload();
    await sheet.done();
    assert.equal(await page.locator("#tour-offer").isVisible(), false);
    await page.getByRole("button", { name: "Erase my data" }).click();
    await page.reload();
    await page.locator("#tour-offer").waitFor();
    await page.getByRole("button", { name: "No, thanks" }).click();
    await page.locator("#tour-offer").waitFor({ state: "hidden" });
    await page.waitForFunction(() => document.activeElement?.id === "show-around");
  });
}
