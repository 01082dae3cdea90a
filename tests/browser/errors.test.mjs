/** Bad input: said in words beside the field, while the last good result stays. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";

const visit = useLab();

const FIELDS = [
  { bench: "furnace", path: "temperature_c", unit: "°C" },
  { bench: "furnace", path: "time_min", unit: "min" },
  { bench: "spinner", path: "speed_rpm", unit: "rpm" },
  { bench: "wet-bench", path: "time_s", unit: "s" },
  { bench: "deposition", path: "time_min", unit: "min" },
  { bench: "dry-etcher", path: "step_height_nm", unit: "nm" },
  { bench: "polisher", path: "pressure_kpa", unit: "kPa" },
  { bench: "diffusion-tube", path: "temperature_c", unit: "°C" },
  { bench: "implanter", path: "energy_kev", unit: "keV" },
];

for (const { bench, path, unit } of FIELDS) {
  test(`${bench}, ${path}: a value out of range names the range`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench}`);
    const good = await lab.settle();
    await lab.type(path, "99999999");
    await lab.fieldError(path).waitFor();
    const words = (await lab.fieldError(path).textContent()) ?? "";
    assert.match(words, /\d.* to .*\d/, "the allowed range");
    assert.ok(words.includes(unit), `the unit ${unit} in: ${words}`);
    assert.equal(await lab.number(path).getAttribute("aria-invalid"), "true");
    const described = (await lab.number(path).getAttribute("aria-describedby")) ?? "";
    const id = (await lab.fieldError(path).getAttribute("id")) ?? "none";
    assert.ok(described.split(" ").includes(id), "the error is tied to its field");
    const now = await lab.settle();
    assert.equal(now.plot, good.plot, "the last good plot stays");

    // Back in range, the error goes and the result moves on.
    const limit = await lab.slider(path).getAttribute("min");
    assert.ok(limit !== null);
    await lab.drag(path, 0.5);
    await lab.fieldError(path).waitFor({ state: "hidden" });
    await lab.changed(good, ["plot"]);
  });

  test(`${bench}, ${path}: what is no number is not computed`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench}`);
    const good = await lab.settle();
    for (const text of ["hot", "", "1e", "NaN", "1e999", "<img src=x onerror=alert(1)>"]) {
      await lab.type(path, text);
      await lab.fieldError(path).waitFor();
      const words = (await lab.fieldError(path).textContent()) ?? "";
      assert.match(words, /not a number/, text);
      assert.match(words, /\d.* to .*\d/, "the allowed range");
    }
    assert.equal((await lab.settle()).plot, good.plot, "the last good plot stays");
    assert.equal(await lab.page.locator("img[src=x]").count(), 0);
  });
}

test("a computation that breaks on the page is said, and Restart repeats it", async (t) => {
  const lab = await visit(t, "#v=1&bench=furnace", {
    prepare: (page) =>
      page.route("**/js/lab.js", async (route) => {
        const response = await route.fetch();
        const text = await response.text();
        const trap = 'if ("broken" in self) throw new Error("unreachable"); return glue.bench(';
        assert.ok(text.includes("return glue.bench("));
        await route.fulfill({ response, body: text.replace("return glue.bench(", trap) });
      }),
  });
  const good = await lab.settle();
  await lab.page.evaluate(() => Object.assign(self, { broken: true }));
  const card = lab.page.getByText("The computation broke down.", { exact: true });
  const slider = lab.slider("temperature_c");
  // The first moves may still be the worker's: the page answers once it knows the time taken.
  for (let k = 0; k < 200 && (await card.count()) === 0; k += 1) {
    await slider.press("ArrowRight");
    await lab.page.waitForTimeout(50);
  }
  await card.waitFor();
  assert.ok(await lab.fitsWidth());
  await lab.page.getByRole("button", { name: "Restart" }).click();
  await card.waitFor({ state: "detached" });
  await lab.changed(good, ["reading"]);
});
