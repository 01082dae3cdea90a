/** Rules that a program can check, on every bench in every appearance. */

import assert from "node:assert/strict";
import { test } from "node:test";

import { axeSource, useLab } from "./harness.mjs";
import { BENCHES } from "./lab.mjs";

const visit = useLab();
const initScript = await axeSource();

const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

/** @param {import("./lab.mjs").Lab} lab */
async function violations(lab) {
  return lab.page.evaluate(async (tags) => {
    /** @typedef {{ id: string, help: string, nodes: { target: string[], failureSummary: string }[] }} Violation */
    const axe =
      /** @type {{ axe: { run: (node: Document, options: object) => Promise<{ violations: Violation[] }> } }} */ (
        /** @type {unknown} */ (globalThis)
      ).axe;
    const found = await axe.run(document, { runOnly: { type: "tag", values: tags } });
    return found.violations.map(
      ({ id, help, nodes }) =>
        `${id}: ${help}: ${nodes.map((node) => `${node.target} (${node.failureSummary})`).join("; ")}`,
    );
  }, TAGS);
}

/** @type {{ name: string, options: import("./harness.mjs").VisitOptions }[]} */
const APPEARANCES = [
  { name: "light", options: { colorScheme: "light" } },
  { name: "dark", options: { colorScheme: "dark" } },
  { name: "320 px", options: { width: 320, height: 640 } },
  { name: "forced colors", options: { forcedColors: "active" } },
];

test("the checker finds what is planted", async (t) => {
  const lab = await visit(t, "#v=1&bench=furnace", { initScript });
  await lab.page.evaluate(() => {
    const image = document.createElement("img");
    image.src = "data:image/gif;base64,R0lGODlhAQABAAAAACw=";
    const faint = document.createElement("p");
    faint.textContent = "faint";
    faint.style.color = "#eeeeee";
    faint.style.background = "#ffffff";
    document.querySelector("main")?.append(image, faint);
  });
  const found = (await violations(lab)).join("\n");
  assert.match(found, /image-alt/);
  assert.match(found, /color-contrast/);
});

/** The first number field of a bench, to put an error into. */
const FIRST_NUMBER = "[data-field]:visible input[type=text]";

for (const bench of BENCHES) {
  for (const operation of bench.operations) {
    const link = `#v=1&bench=${bench.id}&operation=${operation}`;
    for (const { name, options } of APPEARANCES) {
      test(`${bench.name}, ${operation}, ${name}: no violation`, async (t) => {
        const lab = await visit(t, link, { ...options, initScript });
        assert.deepEqual(await violations(lab), []);
      });
    }

    test(`${bench.name}, ${operation}: no violation with everything unfolded`, async (t) => {
      const lab = await visit(t, link, { initScript });
      await lab.page.evaluate(() => {
        for (const details of document.querySelectorAll("details")) details.open = true;
      });
      await lab.settle();
      assert.deepEqual(await violations(lab), []);
    });

    for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
      test(`${bench.name}, ${operation}: no violation after an error, ${colorScheme}`, async (t) => {
        const lab = await visit(t, link, { colorScheme, initScript });
        await lab.page.locator(FIRST_NUMBER).first().fill("nonsense");
        await lab.page.locator(FIRST_NUMBER).first().press("Enter");
        await lab.page.locator(".field-error:visible").first().waitFor();
        assert.deepEqual(await violations(lab), []);
      });
    }
  }
}
