/** Every control by keyboard alone: reachable, seen, and never a trap. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";
import { BENCHES } from "./lab.mjs";

const visit = useLab();

for (const bench of BENCHES) {
  test(`${bench.name}: Tab reaches every control, seen and not covered`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench.id}`);
    const wanted = await lab.page.evaluate(() => {
      const controls = document.querySelectorAll(
        "a[href], button, input, select, textarea, summary",
      );
      /** @type {Set<string>} */
      const radios = new Set();
      let count = 0;
      for (const control of controls) {
        // Folded parts are display: none or content-visibility: hidden until unfolded.
        if (!control.checkVisibility({ contentVisibilityAuto: true, visibilityProperty: true }))
          continue;
        if (control.closest("details:not([open])") && control.localName !== "summary") continue;
        if (control instanceof HTMLInputElement && control.disabled) continue;
        // A group of radio buttons is one stop.
        if (control instanceof HTMLInputElement && control.type === "radio") {
          if (radios.has(control.name)) continue;
          radios.add(control.name);
        }
        count += 1;
      }
      return count;
    });
    assert.ok(wanted > 10, `${wanted} controls`);
    const reached = new Set();
    for (let k = 0; k < wanted + 40; k += 1) {
      await lab.page.keyboard.press("Tab");
      const stop = await lab.page.evaluate(() => {
        const here = document.activeElement;
        if (!(here instanceof HTMLElement) || here === document.body) return null;
        const controls = "a[href], button, input, select, textarea, summary";
        const box = here.getBoundingClientRect();
        const style = getComputedStyle(here);
        const inside =
          box.bottom > 0 && box.top < innerHeight && box.right > 0 && box.left < innerWidth;
        const radio = here instanceof HTMLInputElement && here.type === "radio";
        const all = [...document.querySelectorAll(controls)];
        return {
          key: radio ? here.name : String(all.indexOf(here)),
          control: here.matches(controls),
          name: `${here.localName} ${here.textContent?.trim().slice(0, 40)}`,
          inside,
          marked: style.outlineStyle !== "none" || style.boxShadow !== "none" || radio,
        };
      });
      if (stop === null) continue;
      assert.ok(stop.inside, `${stop.name} has the focus in view`);
      assert.ok(stop.marked, `${stop.name} shows that it has the focus`);
      if (stop.control) reached.add(stop.key);
    }
    assert.ok(reached.size >= wanted, `${reached.size} of ${wanted} controls were reached`);
  });
}

test("targets are large enough to hit", async (t) => {
  const lab = await visit(t, "#v=1&bench=furnace", { width: 360, height: 740 });
  const small = await lab.page.evaluate(() =>
    [...document.querySelectorAll("button, select, input:not([type=radio]), summary")]
      .filter((control) => control.checkVisibility() && !control.closest("details:not([open])"))
      .map((control) => ({ control, box: control.getBoundingClientRect() }))
      .filter(({ box }) => box.width < 24 || box.height < 24)
      .map(({ control, box }) => `${control.outerHTML.slice(0, 80)} ${box.width}x${box.height}`),
  );
  assert.deepEqual(small, []);
});
