/**
 * The Safety place: every hazard has its page, the search finds it, links lead to benches, a run
 * sheet gets its safety sheet from the kernel, and all of it is reached by keyboard and in print.
 */

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { join } from "node:path";
import { test } from "node:test";

import { OUT, axeSource, useLab } from "./harness.mjs";
import { openSheet } from "./sheet.mjs";
import { eventually } from "./waiting.mjs";

const visit = useLab();
const initScript = await axeSource();

const FLOW = JSON.stringify({
  title: "A plan with two mistakes",
  steps: [
    { id: "coat", step: { operation: "spin_coating", resist: "demo-p12", primed: true } },
    { id: "etch", step: { operation: "wet_etch", etchant: "bhf_6_1", material: "thermal_oxide" } },
    { id: "lift", step: { operation: "resist_strip", method: "solvent" } },
    { id: "rca", purpose: "Clean.", step: { operation: "clean", recipe: "piranha_sc1_hf_sc2" } },
  ],
});

/**
 * @param {import("node:test").TestContext} t
 * @param {string} [fragment]
 * @param {import("./harness.mjs").VisitOptions} [options]
 */
async function safety(t, fragment = "", options = {}) {
  const lab = await visit(t, `safety.html${fragment}`, { ...options, load: false });
  await lab.page.locator("#view h2").first().waitFor();
  return lab;
}

test("every hazard of the table has a page with protection, first aid and its steps", async (t) => {
  const lab = await safety(t);
  const ids = await lab.page
    .locator(".hazards li")
    .evaluateAll((items) => items.map((item) => item.getAttribute("data-hazard") ?? ""));
  assert.ok(ids.length >= 56, `${ids.length} hazards`);
  for (const id of ids) {
    await lab.page.evaluate((hash) => (location.hash = hash), `#v=1&hazard=${id}`);
    await lab.page.locator(`.hazard .caution[data-hazard="${id}"]`).waitFor();
    const text = await lab.page.locator(".hazard").innerText();
    for (const part of ["Wear:", "First aid:", "First aid in full", "Steps that use it"]) {
      assert.ok(text.includes(part), `${id}: ${part}`);
    }
    assert.ok(!/undefined|\[object|null/.test(text), `${id}: ${text}`);
  }
});

test("limits carry their source, and what is from memory says so", async (t) => {
  const hf = await safety(t, "#v=1&hazard=HF49");
  const text = await hf.page.locator(".hazard").innerText();
  assert.match(text, /3 ppm TWA/);
  assert.match(text, /30 ppm/);
  assert.match(text, /OSHA chemical sampling information/);
  assert.match(text, /calcium gluconate/);
  assert.match(text, /never with sand/i);
  const teos = await safety(t, "#v=1&hazard=TEOS");
  assert.ok(
    (await teos.page.getByText("Confirm against the supplier's current sheet").count()) >= 3,
  );
});

test("the search finds by code, number and word, and stands in the address", async (t) => {
  const lab = await safety(t);
  const field = lab.page.getByLabel("Search by name");
  /** @param {string} words */
  const found = async (words) => {
    await field.fill(words);
    // The address changes together with the list.
    await lab.page.waitForURL(
      (url) => new URLSearchParams(url.hash.slice(1)).get("search") === words,
    );
    return lab.page
      .locator(".hazards li")
      .evaluateAll((items) => items.map((item) => item.getAttribute("data-hazard") ?? ""));
  };
  assert.deepEqual(await found("7664-39-3 acid 49"), ["HF49"]);
  assert.ok((await found("H232")).includes("SIH4"));
  assert.ok((await found("phosphoric")).includes("H3PO4_HOT"));
  await lab.page.waitForURL(/search=phosphoric/);
  assert.deepEqual(await found("no such word"), []);
  await lab.page.getByText("No row has these words").waitFor();
  assert.equal(await lab.page.evaluate(() => document.activeElement?.id), "search");
});

test("a step of a hazard opens in its bench without a complaint", async (t) => {
  for (const id of ["BHF", "SIH4", "POCL3", "PLASMA_BY"]) {
    const lab = await safety(t, `#v=1&hazard=${id}`);
    await lab.page.locator(".steps a").first().click();
    await lab.ready();
    assert.ok(await lab.page.locator("#notices").isHidden(), `${id}: nothing was refused`);
    assert.ok(
      (await lab.page.locator(`lab-caution [data-hazard="${id}"]`).count()) > 0,
      `${id} is shown by its bench`,
    );
  }
});

test("a run sheet gets its cautions and its mistakes from the kernel", async (t) => {
  const lab = await safety(t, "#v=1&view=flow");
  await lab.page.getByLabel("Or paste a flow").fill(FLOW);
  await lab.page.getByRole("button", { name: "Make the sheet" }).click();
  await lab.page.locator("#sheet h3").waitFor();
  const sheet = await lab.page.locator("#sheet").innerText();
  assert.match(sheet, /A plan with two mistakes/);
  assert.match(sheet, /Solvent goes into piranha \(lift, rca\)/);
  const hazards = await lab.page
    .locator("#sheet .caution")
    .evaluateAll((cards) => cards.map((card) => card.getAttribute("data-hazard") ?? ""));
  assert.equal(hazards[0], "HF_DIL", "HF first");
  for (const id of ["PIRANHA", "HMDS", "ACETONE", "SC1", "SC2"])
    assert.ok(hazards.includes(id), id);
  await lab.page.emulateMedia({ media: "print" });
  assert.ok(await lab.page.locator("#sheet .caution").first().isVisible());
  assert.ok(await lab.page.locator("#flow-text").isHidden(), "the form is not printed");
  assert.match(await lab.page.locator("#sheet").innerText(), /not training/);
  await lab.page.pdf({ format: "A4", path: join(OUT, "safety-sheet.pdf") });
});

test("a flow of the lab is chosen by name, stands in the address and is printed", async (t) => {
  const lab = await safety(t, "#v=1&view=flow");
  const choice = lab.page.getByLabel("A flow of the lab");
  assert.ok((await choice.locator("option").count()) >= 16, "all shipped flows");
  await choice.selectOption("full-cmos");
  await lab.page
    .locator("#sheet h3")
    .filter({ hasText: /inverter/i })
    .waitFor();
  await lab.page.waitForURL(/sheet=full-cmos/);
  await lab.page.emulateMedia({ media: "print" });
  assert.ok(await lab.page.locator("#sheet .caution").first().isVisible());
  assert.ok(await choice.isHidden(), "the form is not printed");
  const printed = await lab.page.locator("#sheet").innerText();
  assert.match(printed, /not training/);
  assert.match(printed, /calcium gluconate/);
  assert.match(printed, /Emergency number of this site/);
  const pdf = await lab.page.pdf({ format: "A4", path: join(OUT, "safety-full-cmos.pdf") });
  assert.equal(pdf.subarray(0, 5).toString(), "%PDF-");
});

test("a link opens the sheet of a flow, and a text of one's own leaves it", async (t) => {
  const lab = await safety(t, "#v=1&sheet=mos-capacitor");
  await lab.page.locator("#sheet h3").waitFor();
  const choice = lab.page.getByLabel("A flow of the lab");
  await eventually(async () => assert.equal(await choice.inputValue(), "mos-capacitor"));
  await lab.page.getByLabel("Or paste a flow").fill(FLOW);
  await eventually(async () => assert.equal(await choice.inputValue(), ""));
  await lab.page.waitForURL((url) => !/sheet=/.test(url.hash));
  // Another flow by its link, without loading the page again.
  await lab.page.evaluate(() => (location.hash = "#v=1&sheet=short-cmos"));
  await lab.page
    .locator("#sheet h3")
    .filter({ hasText: /six masks/ })
    .waitFor();
  // A name that is none of ours shows the hazards.
  await lab.page.evaluate(() => (location.hash = "#v=1&sheet=no-such-flow"));
  await lab.page.locator(".hazards").waitFor();
});

test("the Run sheet leads to the safety sheet of its flow, a changed one too", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor");
  const link = sheet.page.getByRole("link", { name: "Safety sheet of this flow" });
  await eventually(async () =>
    assert.equal(await link.getAttribute("href"), "safety.html#v=1&sheet=mos-capacitor"),
  );
  const count = await sheet.rows().count();
  await sheet.page.locator("#remove").click();
  await sheet.page.waitForFunction(() =>
    document.querySelector("#safety-sheet")?.getAttribute("href")?.endsWith("sheet=mine"),
  );
  await sheet.has(count - 1);
  await link.click();
  const steps = sheet.page.locator("#sheet .sheet-steps > li");
  await eventually(async () => assert.equal(await steps.count(), count - 1));
});

test("the flow on the Run sheet is missed in words where there is none", async (t) => {
  const lab = await safety(t, "#v=1&sheet=mine");
  await lab.page
    .locator("#flow-error")
    .filter({ hasText: /keeps no flow/ })
    .waitFor();
});

test("values of open compilations stand beside the limits with their package", async (t) => {
  const lab = await safety(t, "#v=1&hazard=HF49");
  const hf = await lab.page.locator(".hazard").innerText();
  assert.match(hf, /0\.5 ppm TWA, 2 ppm ceiling, also taken up through the skin/);
  assert.match(hf, /read, in chemicals 1\.5\.2/i);
  assert.match(hf, /another authority/);
  await lab.page.evaluate(() => (location.hash = "#v=1&hazard=ACETONE"));
  await lab.page.getByText("465").first().waitFor();
  assert.match(await lab.page.locator(".hazard").innerText(), /2\.5 to 14\.3 %/);
  await lab.page.evaluate(() => (location.hash = "#v=1&hazard=HEAT"));
  await lab.page.locator('.caution[data-hazard="HEAT"]').waitFor();
  assert.equal(await lab.page.getByText("In open compilations").count(), 0);
});

test("a file is read here; what is no run sheet is refused in words", async (t) => {
  const lab = await safety(t, "#v=1&view=flow");
  await lab.page.locator("#flow-file").setInputFiles({
    name: "flow.json",
    mimeType: "application/json",
    buffer: Buffer.from(FLOW),
  });
  await lab.page.locator("#sheet .caution").first().waitFor();
  for (const [text, message] of [
    ["{", /no JSON/],
    ["{}", /run sheet/],
    ["", /nothing to read/],
  ]) {
    await lab.page.locator("#flow-text").fill(String(text));
    await lab.page.getByRole("button", { name: "Make the sheet" }).click();
    await lab.page.locator("#flow-error").filter({ hasText: message }).waitFor();
    await lab.page.locator("#sheet .caution").first().waitFor({ state: "detached" });
  }
});

test("questions answer a wrong choice with a question, a right one with the reason", async (t) => {
  const lab = await safety(t, "#v=1&view=questions");
  const box = lab.page.locator('[data-question="piranha-order"]');
  await box.getByLabel("The peroxide first").check();
  await box
    .locator(".told")
    .filter({ hasText: /Think again\..*\?/s })
    .waitFor();
  assert.ok(await box.locator(".after").isHidden());
  await box.getByLabel("The acid first").check();
  await box.locator(".told").filter({ hasText: /Right/ }).waitFor();
  await box.locator(".after").waitFor();
  assert.ok((await lab.page.locator(".question-box").count()) >= 12);
});

const VIEWS = ["hazards", "emergency", "rules", "flow", "questions", "words"];
for (const { name, options } of [
  { name: "light", options: { colorScheme: /** @type {const} */ ("light") } },
  { name: "dark", options: { colorScheme: /** @type {const} */ ("dark") } },
  { name: "360 px", options: { width: 360, height: 740 } },
  { name: "forced colors", options: { forcedColors: /** @type {const} */ ("active") } },
]) {
  test(`${name}: no violation in any part, and all fit`, async (t) => {
    const lab = await safety(t, "", { ...options, initScript });
    for (const fragment of [...VIEWS.map((view) => `#v=1&view=${view}`), "#v=1&hazard=HF49"]) {
      await lab.page.evaluate((hash) => (location.hash = hash), fragment);
      const current = fragment.includes("hazard=") ? ".hazard" : "#view h2";
      await lab.page.locator(current).first().waitFor();
      if (fragment.includes("flow")) {
        await lab.page.getByLabel("Or paste a flow").fill(FLOW);
        await lab.page.getByRole("button", { name: "Make the sheet" }).click();
        await lab.page.locator("#sheet .caution").first().waitFor();
      }
      assert.ok(await lab.fitsWidth(), `${fragment}: no sideways scrolling of the page`);
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
      assert.deepEqual(violations, [], fragment);
    }
  });
}

test("by keyboard: from the search to a hazard, and back to all", async (t) => {
  const lab = await safety(t);
  await lab.page.getByLabel("Search by name").focus();
  await lab.page.keyboard.type("piranha");
  await lab.page.keyboard.press("Tab");
  await lab.page.keyboard.press("Enter");
  await lab.page.locator(".hazard").waitFor();
  assert.equal(await lab.page.evaluate(() => document.activeElement?.id), "hazard-title");
  await lab.page.goBack();
  await lab.page.locator(".hazards").waitFor();
});

test("a visit of a bench loads nothing of it; what does not come is said", async (t) => {
  /** @type {string[]} */
  const asked = [];
  const bench = await visit(t, "", {
    prepare: async (page) => {
      page.on("request", (request) => asked.push(new URL(request.url()).pathname));
    },
  });
  assert.deepEqual(
    asked.filter((path) => /safety/.test(path)),
    [],
  );
  await bench.page.getByRole("link", { name: "Safety", exact: true }).click();
  await bench.page.locator(".hazards").waitFor();
  const lab = await visit(t, "safety.html", {
    load: false,
    console: /safety\.json|Failed to load resource/,
    prepare: (page) =>
      page.route("**/data/safety.json", (route) => route.abort("internetdisconnected")),
  });
  await lab.page
    .getByText(/safety\.json could not be loaded/)
    .first()
    .waitFor();
  await lab.page.getByRole("button", { name: "Try again" }).waitFor();
});

test("the words of a caution are those of the command", async (t) => {
  const lab = await safety(t, "#v=1&hazard=PIRANHA");
  const data = JSON.parse(
    await readFile(
      join(process.env["BAREWAFER_SITE"] ?? join(OUT, "../site"), "data/safety.json"),
      "utf8",
    ),
  );
  const row = data.rows.find((/** @type {{ id: string }} */ one) => one.id === "PIRANHA");
  const text = await lab.page.locator(".hazard .caution").innerText();
  for (const part of [row.can_happen, row.wear, row.first_aid, row.keep_apart]) {
    assert.ok(text.includes(part), part);
  }
});
