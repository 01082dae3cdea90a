/**
 * The Sources place: every published value is asked for in this browser, none is off, filters and
 * links work, and the values are those of the native command.
 */

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

import { axeSource, useLab } from "./harness.mjs";
import { Lab } from "./lab.mjs";

const visit = useLab();
const initScript = await axeSource();

/** At least so many values are listed. */
const FEWEST = 250;

/** Opens the place and waits until everything is computed.
 * @param {import("node:test").TestContext} t
 * @param {string} [fragment]
 * @param {import("./harness.mjs").VisitOptions} [options]
 */
async function sources(t, fragment = "", options = {}) {
  const lab = await visit(t, `sources.html${fragment}`, { ...options, load: false });
  await lab.page.locator("#tally[data-state=done]").waitFor({ timeout: 120_000 });
  return lab;
}

/** @param {Lab} lab */
function shown(lab) {
  return lab.page.locator(".checks tbody tr:visible");
}

test("every published value is computed here and none is off", async (t) => {
  const lab = await sources(t);
  const verdicts = await lab.page
    .locator(".checks tbody tr")
    .evaluateAll((rows) => rows.map((row) => row.getAttribute("data-verdict") ?? ""));
  assert.ok(verdicts.length >= FEWEST, `${verdicts.length} rows`);
  assert.deepEqual([...new Set(verdicts)].sort(), ["known_deviation", "met"]);
  const deviations = verdicts.filter((verdict) => verdict === "known_deviation").length;
  const tally = (await lab.page.locator("#tally").textContent()) ?? "";
  assert.match(tally, new RegExp(`${verdicts.length} of ${verdicts.length} computed`));
  assert.match(tally, new RegExp(`${deviations} known deviations, 0 off`));
  t.diagnostic(tally);
  const links = await lab.page.locator(".checks tbody a").count();
  t.diagnostic(`${links} rows open in their bench`);
  assert.ok(links > 0.5 * verdicts.length, `${links} links`);
  assert.ok((await lab.page.locator(".constants tbody tr").count()) > 300);
});

test("filters choose by bench, kind of knowledge and result, and stand in the address", async (t) => {
  const lab = await sources(t, "#v=1&bench=furnace");
  const furnace = await shown(lab).count();
  assert.ok(
    furnace > 50 && (await shown(lab).locator("small", { hasText: "Furnace:" }).count()) > 0,
  );
  await lab.page.getByLabel("How it is known").selectOption("read");
  const read = await shown(lab).count();
  assert.ok(read > 0 && read < furnace, `${read} of ${furnace}`);
  await lab.page.waitForURL(/bench=furnace&kind=read/);
  await lab.page.getByLabel("Bench", { exact: true }).selectOption("");
  await lab.page.getByLabel("How it is known").selectOption("");
  await lab.page.getByLabel("Result").selectOption("known_deviation");
  const rows = shown(lab);
  for (const word of await rows.locator(".verdict").allTextContents()) {
    assert.match(word, /known deviation/);
  }
  await lab.page.getByLabel("Result").selectOption("off");
  assert.equal(await shown(lab).count(), 0);
  await lab.page.locator("#nothing").waitFor();
});

test("a row opened in its bench shows the same value", async (t) => {
  const lab = await sources(t, "#v=1&bench=furnace");
  const row = lab.page.locator('[data-id="oxidation_checks OX38"]');
  const ours = (await row.locator("td").nth(1).textContent()) ?? "";
  await row.getByRole("link").click();
  const bench = new Lab(lab.page, lab.address);
  await bench.ready();
  const big = (await bench.reading().textContent()) ?? "";
  // 0.3885 um stands as 388 nm: the bench rounds to three digits.
  assert.ok(
    Math.abs(Number.parseFloat(ours) * 1000 - Number.parseFloat(big)) <= 0.5,
    `${ours} against ${big}`,
  );
});

test("the saved file has a line for every row that is shown", async (t) => {
  const lab = await sources(t, "#v=1&bench=polisher");
  const waiting = lab.page.waitForEvent("download");
  await lab.page.getByRole("button", { name: "Save as CSV" }).click();
  const text = await readFile(await (await waiting).path(), "utf8");
  assert.equal(text.trim().split("\r\n").length, 1 + (await shown(lab).count()));
  assert.match(text, /Preston|K P V/);
});

for (const { name, options } of [
  { name: "light", options: { colorScheme: /** @type {const} */ ("light") } },
  { name: "dark", options: { colorScheme: /** @type {const} */ ("dark") } },
  { name: "360 px", options: { width: 360, height: 740 } },
  { name: "forced colors", options: { forcedColors: /** @type {const} */ ("active") } },
]) {
  test(`${name}: no violation, and it fits`, async (t) => {
    // One bench is enough for the checker, which is slow on long tables.
    const lab = await sources(t, "#v=1&bench=diffusion-tube", { ...options, initScript });
    assert.ok(await lab.fitsWidth(), "no sideways scrolling of the page");
    const violations = await lab.page.evaluate(async () => {
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

test("the table is reached and scrolled by keyboard", async (t) => {
  const lab = await sources(t);
  await lab.page.getByRole("button", { name: "Save as CSV" }).focus();
  // On the way lies the summary that says how a value can be known.
  await lab.page.keyboard.press("Tab");
  await lab.page.keyboard.press("Tab");
  assert.equal(await lab.page.evaluate(() => document.activeElement?.id), "checks-region");
  await lab.page.keyboard.press("PageDown");
  await lab.page.waitForFunction(
    () => (document.getElementById("checks-region")?.scrollTop ?? 0) > 0,
  );
});

test("a visit of a bench loads nothing of it; what does not come is said", async (t) => {
  /** @type {string[]} */
  const asked = [];
  await visit(t, "", {
    prepare: async (page) => {
      page.on("request", (request) => asked.push(new URL(request.url()).pathname));
    },
  });
  assert.ok(asked.length > 5);
  assert.deepEqual(
    asked.filter((path) => /sources|data\//.test(path)),
    [],
  );
  const lab = await visit(t, "sources.html", {
    load: false,
    console: /checks\.json|Failed to load resource/,
    prepare: (page) =>
      page.route("**/data/checks.json", (route) => route.abort("internetdisconnected")),
  });
  await lab.page
    .getByText(/checks\.json could not be loaded/)
    .first()
    .waitFor();
  await lab.page.getByRole("button", { name: "Try again" }).waitFor();
});
