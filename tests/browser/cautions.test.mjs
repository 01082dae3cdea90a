/** Where work can hurt, the caution is in sight: no click, no scroll into hidden corners, in print. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";
import { BENCHES } from "./lab.mjs";

const visit = useLab();

/** Benches of steps; a question about a finished wafer has no hazard of its own. */
const STEPS = BENCHES.filter((bench) => bench.id !== "four-point");

for (const bench of STEPS) {
  for (const width of [1280, 360]) {
    test(`${bench.name} at ${width} px: the caution stands open`, async (t) => {
      const lab = await visit(t, `#v=1&bench=${bench.id}`, { width, height: 800 });
      const cautions = lab.cautions();
      assert.ok((await cautions.count()) > 0, "at least one caution");
      const first = cautions.first();
      assert.ok(await first.isVisible());
      const text = (await first.innerText()).toLowerCase();
      assert.match(text, /danger|warning|caution|notice/, "a signal word");
      assert.ok(text.length > 60, `sentences, not a mark: ${text}`);
      for (const card of await cautions.all()) {
        assert.ok(await card.isVisible(), "every caution stands open");
        const words = await card.innerText();
        for (const part of ["Can happen:", "Wear:", "First aid:"]) {
          assert.ok(words.includes(part), `${part} in ${words}`);
        }
        assert.ok((await card.locator(".pictogram span").count()) > 0, "a sign with its name");
      }
      assert.equal(await first.locator("details:not([open])").count(), 0, "nothing folded away");
      const box = await first.boundingBox();
      assert.ok(box && box.width > 200 && box.x >= 0 && box.x + box.width <= width + 1, "in view");
      const line = lab.page.locator("lab-hazard-line");
      assert.match(await line.innerText(), /danger|warning|caution/i, "the worst one in one line");
      const at = await line.boundingBox();
      assert.ok(at && at.y >= 0 && at.y + 24 <= 800, "in the first screenful, without scrolling");
      const region = (await lab.page.locator("main").innerText()).toLowerCase();
      assert.match(region, /site|trained|safety data sheet/, "defers to the site's rules");
    });
  }

  test(`${bench.name}: the caution is printed`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench.id}`);
    await lab.page.emulateMedia({ media: "print" });
    await lab.page.evaluate(() => window.dispatchEvent(new Event("beforeprint")));
    for (const card of await lab.cautions().all()) assert.ok(await card.isVisible());
    assert.ok(await lab.reading().isVisible(), "the result is printed too");
    const sheet = await lab.page.locator("#print-sheet").innerText();
    assert.match(sheet, /Settings/);
    assert.ok(sheet.includes(`bench=${bench.id}`), "the way back to this view");
    const pages = await lab.page.pdf({ format: "A4" });
    assert.equal(pages.subarray(0, 5).toString(), "%PDF-");
  });
}

test("hydrofluoric acid: danger, with what to do at once", async (t) => {
  const lab = await visit(t, "#v=1&bench=wet-bench");
  const text = await lab.cautions().first().innerText();
  assert.match(text, /danger/i);
  assert.match(text, /calcium gluconate/i);
});

test("settings that are refused show the caution of what they name", async (t) => {
  const lab = await visit(t, "#v=1&bench=wet-bench&material=nitride&etchant=acetone", {
    load: false,
  });
  await lab
    .cautions()
    .filter({ hasText: /acetone/i })
    .first()
    .waitFor();
  const text = await lab.page.locator("lab-caution").innerText();
  assert.doesNotMatch(text, /hydrofluoric|buffered/i);
});

test("what stays in sight while scrolling never covers a caution", async (t) => {
  const lab = await visit(t, "#v=1&bench=wet-bench&etchant=bhf_6_1", { width: 1280, height: 800 });
  for (const card of await lab.cautions().all()) {
    const covered = await card.evaluate((element) => {
      element.scrollIntoView({ block: "start" });
      const { left, right, top } = element.getBoundingClientRect();
      return [left + 8, (left + right) / 2, right - 8].filter((x) => {
        const hit = document.elementFromPoint(x, top + 40);
        return !(hit && element.contains(hit));
      });
    });
    assert.deepEqual(covered, []);
  }
});

test("HF stands first, with its gel and its vessel", async (t) => {
  const lab = await visit(t, "#v=1&bench=wet-bench&etchant=bhf_6_1");
  const first = lab.cautions().first();
  assert.match((await first.getAttribute("data-hazard")) ?? "", /HF/);
  assert.match(await first.innerText(), /never[\s\S]*glass/i);
  assert.match(await first.innerText(), /calcium gluconate/i);
});

test("another bath brings its own caution", async (t) => {
  const lab = await visit(t, "#v=1&bench=wet-bench");
  const before = await lab.cautions().allInnerTexts();
  await lab.follow("#v=1&bench=wet-bench&material=aluminum&etchant=aluminum_etch");
  await lab.page.waitForFunction(
    (old) => {
      const texts = [...document.querySelectorAll("lab-caution .caution")];
      return texts.map((item) => item.textContent).join() !== old;
    },
    before.join(),
    { timeout: 5000 },
  );
  const after = await lab.cautions().allInnerTexts();
  assert.notDeepEqual(after, before);
});

test("a measured layer brings the cautions of the step that made it", async (t) => {
  const lab = await visit(t, "#v=1&bench=four-point");
  assert.equal(await lab.cautions().count(), 0);
  assert.match(await lab.page.locator("lab-caution").innerText(), /steps that made the layer/);
  await lab.follow("#v=1&bench=four-point&start=implanted");
  await lab.cautions().first().waitFor();
});

test("a plasma shows its gases and what it leaves; a strip in piranha its own", async (t) => {
  const lab = await visit(t, "#v=1&bench=dry-etcher");
  const gases = await lab.page.locator("lab-caution").innerText();
  assert.match(gases, /chlorine/i);
  assert.match(gases, /hydrogen bromide/i);
  assert.match(gases, /by-products/i);
  const strip = await visit(t, "#v=1&bench=dry-etcher&operation=resist_strip&method=piranha");
  const bath = await strip.page.locator("lab-caution").innerText();
  assert.match(bath, /peroxide slowly into acid/i);
  assert.match(bath, /aluminum/i);
});
