/** The four named sliders: moving one changes the number, the picture and the plot. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";
import { BENCHES } from "./lab.mjs";

const visit = useLab();

const SLIDERS = [
  { name: "temperature", bench: "furnace", path: "temperature_c" },
  { name: "time", bench: "furnace", path: "time_min" },
  { name: "spin speed", bench: "spinner", path: "speed_rpm" },
  { name: "exposure dose", bench: "aligner", path: "dose_mj_cm2" },
  { name: "thickness under light", bench: "aligner", path: "thickness_nm" },
  { name: "implant energy", bench: "implanter", path: "energy_kev" },
  { name: "diffusion temperature", bench: "diffusion-tube", path: "temperature_c" },
  { name: "deposition time", bench: "deposition", path: "time_min" },
  { name: "etch time", bench: "wet-bench", path: "time_s" },
  { name: "measured dose", bench: "four-point", path: "start.gaussian.dose_cm2" },
  { name: "dry etch time", bench: "dry-etcher", path: "time_s" },
  { name: "development time", bench: "developer", path: "time_s" },
  { name: "exposure dose", bench: "developer", path: "exposure.dose_mj_cm2" },
  { name: "polishing pressure", bench: "polisher", path: "pressure_kpa" },
];

for (const { name, bench, path } of SLIDERS) {
  test(`${name}: dragging the slider changes number, picture and plot`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench}`);
    const before = await lab.settle();
    const value = await lab.number(path).inputValue();
    await lab.drag(path, 0.3);
    await lab.changed(before);
    const middle = await lab.settle();
    assert.notEqual(await lab.number(path).inputValue(), value, "the number field follows");
    await lab.drag(path, 0.6);
    await lab.changed(middle);
  });

  test(`${name}: the arrow keys move the slider and the result with it`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench}`);
    const before = await lab.settle();
    const value = Number(await lab.number(path).inputValue());
    await lab.slider(path).focus();
    for (let k = 0; k < 8; k += 1) await lab.page.keyboard.press("ArrowRight");
    await lab.changed(before);
    assert.ok(Number(await lab.number(path).inputValue()) > value, "to the right is more");
    const focused = await lab.slider(path).evaluate((slider) => slider === document.activeElement);
    assert.ok(focused, "the focus stays on the slider");
  });

  test(`${name}: a typed number moves the slider and the result`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench}`);
    const before = await lab.settle();
    const position = await lab.slider(path).inputValue();
    const value = Number(await lab.number(path).inputValue());
    await lab.type(path, String(Math.round(value * 0.9)));
    await lab.changed(before);
    assert.notEqual(await lab.slider(path).inputValue(), position, "the slider follows");
  });
}

test("a slider can be held: the last position wins", async (t) => {
  const lab = await visit(t, "#v=1&bench=furnace");
  // Faster than any answer, and ending where a fresh visit by link starts.
  await lab.slider("temperature_c").evaluate((slider) => {
    if (!(slider instanceof HTMLInputElement)) throw new Error("not a slider");
    for (let degrees = 800; degrees <= 1150; degrees += 5) {
      slider.value = String(degrees);
      slider.dispatchEvent(new InputEvent("input", { bubbles: true }));
    }
  });
  const dragged = await lab.settle();
  const linked = await visit(t, "#v=1&bench=furnace&temperature_c=1150");
  assert.deepEqual(await linked.settle(), dragged);
});

for (const bench of BENCHES) {
  for (const operation of bench.operations) {
    test(`${operation}: every slider goes all the way by single steps and sticks nowhere`, async (t) => {
      const lab = await visit(t, `#v=1&bench=${bench.id}&operation=${operation}`);
      const stuck = await lab.page.evaluate(() => {
        /** @type {string[]} */
        const found = [];
        for (const field of document.querySelectorAll("[data-field]")) {
          const slider = field.querySelector("input[type=range]");
          if (!(slider instanceof HTMLInputElement) || !slider.checkVisibility()) continue;
          const start = slider.value;
          /** @param {string} value */
          const move = (value) => {
            slider.value = value;
            slider.dispatchEvent(new InputEvent("input", { bubbles: true }));
          };
          move(slider.min);
          for (let k = 0; k < 400 && slider.value !== slider.max; k += 1) {
            const before = slider.value;
            slider.stepUp();
            move(slider.value);
            if (Number(slider.value) <= Number(before)) {
              const shown = field.querySelector("input[type=text]");
              const text = shown instanceof HTMLInputElement ? shown.value : "?";
              found.push(`${field.getAttribute("data-field")} at ${text}`);
              break;
            }
          }
          move(start);
        }
        return found;
      });
      assert.deepEqual(stuck, []);
      await lab.settle();
    });
  }
}
