/** The first moments, good and bad: every bench opens, and what cannot work says why. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";
import { BENCHES } from "./lab.mjs";

const visit = useLab();

for (const bench of BENCHES) {
  test(`${bench.name}: opens with a result and leaves the console silent`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench.id}`);
    assert.match((await lab.reading().textContent()) ?? "", /\d/);
    const current = lab.page.locator("lab-strip a[aria-current]");
    assert.equal((await current.innerText()).trim(), bench.name);
    assert.equal(await lab.page.locator("h1").count(), 1);
    assert.match(await lab.page.title(), /Bare Wafer/);
    const canvas = lab.page.locator("lab-plot canvas");
    assert.equal(await canvas.getAttribute("role"), "img");
    assert.match(await lab.page.locator("#plot-text").innerText(), /\d/, "the plot in words");
  });
}

test("without WebAssembly the page says what is missing", async (t) => {
  const lab = await visit(t, "", { load: false, initScript: "delete globalThis.WebAssembly;" });
  const words = lab.page.getByText(/WebAssembly/).first();
  await words.waitFor();
  assert.ok(await words.isVisible());
});

test("a wasm file that does not come is named, and a retry is offered", async (t) => {
  let blocked = true;
  const lab = await visit(t, "", {
    load: false,
    console: /films_bg\.wasm|Failed to load resource|503/,
    prepare: async (page) => {
      await page.route("**/*.wasm", (route) =>
        blocked ? route.fulfill({ status: 503, body: "busy" }) : route.continue(),
      );
    },
  });
  await lab.page
    .getByText(/films_bg\.wasm/)
    .first()
    .waitFor();
  blocked = false;
  await lab.page.getByRole("button", { name: /again|retry/i }).click();
  await lab.ready();
});

test("where workers are refused the page computes by itself", async (t) => {
  const lab = await visit(t, "#v=1&bench=furnace", {
    initScript:
      "globalThis.Worker = class { constructor() { throw new DOMException('no', 'SecurityError'); } };",
  });
  const before = await lab.settle();
  await lab.drag("temperature_c", 0.8);
  await lab.changed(before);
});

test("where storage is refused the lab works on", async (t) => {
  const lab = await visit(t, "#v=1&bench=furnace", {
    initScript:
      "Object.defineProperty(globalThis, 'localStorage', { get() { throw new DOMException('no', 'SecurityError'); } });",
  });
  const before = await lab.settle();
  await lab.drag("temperature_c", 0.8);
  await lab.changed(before);
});

test("without JavaScript the page still says what it is", async (t) => {
  const lab = await visit(t, "", {
    load: false,
    // What the browser says of every script that it leaves out.
    console: /main\.js.* csp/,
    prepare: async (page) => {
      const session = await page.context().newCDPSession(page);
      await session.send("Emulation.setScriptExecutionDisabled", { value: true });
    },
  });
  const text = await lab.page.locator("body").innerText();
  assert.match(text, /Bare Wafer/);
  assert.match(text, /JavaScript/);
});

test("the page allows nothing but itself", async (t) => {
  const lab = await visit(t, "");
  const policy = await lab.page
    .locator('meta[http-equiv="Content-Security-Policy"]')
    .getAttribute("content");
  assert.match(policy ?? "", /default-src 'none'/);
  assert.match(policy ?? "", /require-trusted-types-for 'script'/);
  assert.doesNotMatch(policy ?? "", /unsafe-inline|'unsafe-eval'|https?:/);
});
