/** The address holds the whole state; a stranger's address is read with care. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";
import { BENCHES } from "./lab.mjs";

const visit = useLab();

for (const bench of BENCHES) {
  test(`${bench.name}: a copied address restores exactly what was seen`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench.id}`);
    const path =
      (await lab.page
        .locator("[data-field]:visible:has(input[type=range])")
        .first()
        .getAttribute("data-field")) ?? "";
    const start = await lab.settle();
    await lab.drag(path, 0.37);
    // The address follows once the settings have come to rest.
    await lab.page.waitForURL((url) => new URLSearchParams(url.hash.slice(1)).has(path));
    const seen = await lab.settle();
    assert.notDeepEqual(seen, start);
    const fragment = new URL(lab.page.url()).hash;
    assert.ok(fragment.includes(`bench=${bench.id}`), fragment);
    assert.ok(lab.page.url().length < 2000);
    const again = await visit(t, fragment);
    assert.deepEqual(await again.settle(), seen);
  });
}

test("back and forward lead through the benches", async (t) => {
  const lab = await visit(t, "#v=1&bench=furnace");
  await lab.page.getByRole("link", { name: "Implanter" }).click();
  await lab.field("energy_kev").waitFor();
  await lab.page.goBack();
  await lab.field("time_min").waitFor();
  await lab.page.goForward();
  await lab.field("energy_kev").waitFor();
});

const HOSTILE = [
  {
    what: "a value out of range",
    link: "#v=1&bench=furnace&temperature_c=9e9",
    names: /temperature_c/,
  },
  { what: "no number", link: "#v=1&bench=furnace&temperature_c=NaN", names: /temperature_c/ },
  {
    what: "an unknown field",
    link: "#v=1&bench=furnace&__proto__=1&constructor=2",
    names: /__proto__/,
  },
  { what: "an unknown bench", link: "#v=1&bench=../../etc", names: /bench/ },
  { what: "an unknown word", link: "#v=1&bench=furnace&ambient=lava", names: /ambient.*lava/ },
  { what: "another version", link: "#v=99&bench=implanter", names: /version/ },
  {
    what: "markup",
    link: `#v=1&bench=furnace&ambient=${encodeURIComponent("<img src=x onerror=alert(1)>")}`,
    names: /ambient/,
  },
  { what: "far too much", link: `#v=1&bench=furnace&x=${"a".repeat(5000)}`, names: /2000/ },
  {
    what: "broken escapes",
    link: "#v=1&bench=furnace&temperature_c=%E0%A4%A",
    names: /temperature_c/,
  },
];

for (const { what, link, names } of HOSTILE) {
  test(`a link with ${what} is refused in words and the lab works on`, async (t) => {
    const lab = await visit(t, link);
    assert.match((await lab.notices().textContent()) ?? "", names);
    assert.equal(await lab.page.locator("img[src=x]").count(), 0);
    const before = await lab.settle();
    await lab.drag("temperature_c", 0.7).catch(() => lab.drag("energy_kev", 0.7));
    await lab.changed(before, ["reading"]);
  });
}
