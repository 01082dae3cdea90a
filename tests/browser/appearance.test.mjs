/** Light, dark, small, sharp and printed. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";
import { BENCHES } from "./lab.mjs";

const visit = useLab();

/** @param {import("./lab.mjs").Lab} lab */
function background(lab) {
  return lab.page.evaluate(() => getComputedStyle(document.body).backgroundColor);
}

test("the dark scheme of the system is followed, plot included", async (t) => {
  const light = await visit(t, "#v=1&bench=furnace", { colorScheme: "light" });
  const dark = await visit(t, "#v=1&bench=furnace", { colorScheme: "dark" });
  assert.notEqual(await background(light), await background(dark));
  assert.notEqual((await light.settle()).plot, (await dark.settle()).plot);
  const before = await light.settle();
  await light.page.emulateMedia({ colorScheme: "dark" });
  await light.changed(before, ["plot"]);
  assert.equal(await background(light), await background(dark));
});

for (const bench of BENCHES) {
  for (const width of [320, 360, 768, 1280]) {
    test(`${bench.name} at ${width} px: no sideways scrolling`, async (t) => {
      const lab = await visit(t, `#v=1&bench=${bench.id}`, { width, height: 700 });
      assert.ok(await lab.fitsWidth());
      await lab.page.evaluate(() => {
        for (const details of document.querySelectorAll("details")) details.open = true;
      });
      await lab.settle();
      assert.ok(await lab.fitsWidth(), "with everything unfolded");
    });
  }
}

for (const bench of BENCHES) {
  for (const width of [320, 360, 600, 1000, 1280]) {
    test(`${bench.name} at ${width} px: the letters of the picture are read`, async (t) => {
      const lab = await visit(t, `#v=1&bench=${bench.id}`, { width });
      const faults = await lab.page.evaluate(() => {
        const svg = document.querySelector("lab-picture svg");
        if (!(svg instanceof SVGSVGElement)) throw new Error("no picture");
        const frame = svg.getBoundingClientRect();
        const scale = frame.width / svg.viewBox.baseVal.width;
        return [...svg.querySelectorAll("text")].flatMap((text) => {
          const box = text.getBoundingClientRect();
          const size = scale * parseFloat(text.style.fontSize);
          const inside = frame.left <= box.left && box.right <= frame.right;
          return size >= 11 && inside ? [] : [`${text.textContent}: ${size} px, ${inside}`];
        });
      });
      assert.deepEqual(faults, []);
    });
  }
}

for (const pixelRatio of [1, 1.5, 2, 3]) {
  test(`the plot is sharp at ${pixelRatio} device pixels`, async (t) => {
    const lab = await visit(t, "#v=1&bench=implanter", { pixelRatio });
    const [backing, shown] = await lab.page.evaluate(() => {
      const canvas = document.querySelector("lab-plot canvas");
      if (!(canvas instanceof HTMLCanvasElement)) throw new Error("no canvas");
      return [canvas.width, canvas.clientWidth];
    });
    // More pixels than the screen has do no harm: they smooth the curve.
    assert.ok((backing ?? 0) >= (shown ?? 0) * pixelRatio - pixelRatio, `${backing} for ${shown}`);
  });
}

test("text spacing and doubled text keep everything readable", async (t) => {
  const lab = await visit(t, "#v=1&bench=furnace", { width: 640 });
  await lab.page.evaluate(() => {
    document.documentElement.style.fontSize = "200%";
  });
  await lab.settle();
  assert.ok(await lab.fitsWidth());
  assert.ok(await lab.cautions().first().isVisible());
});
