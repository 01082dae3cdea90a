/** Pinned curves and saved files. */

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";

import { useLab } from "./harness.mjs";
import { BENCHES } from "./lab.mjs";

const visit = useLab();

test("a pinned curve stays while the other moves, until it is unpinned", async (t) => {
  const lab = await visit(t, "#v=1&bench=furnace");
  await lab.page.getByRole("button", { name: "Pin this curve" }).click();
  const unpin = lab.page.getByRole("button", { name: "Unpin" });
  await unpin.waitFor();
  const before = await lab.settle();
  await lab.drag("temperature_c", 0.9);
  await lab.changed(before);
  const withGhost = await lab.settle();
  assert.match((await lab.page.locator("lab-plot").innerText()) ?? "", /[Pp]inned/);
  await unpin.click();
  await lab.changed(withGhost, ["plot"]);
  await unpin.waitFor({ state: "hidden" });
});

/**
 * @param {import("./lab.mjs").Lab} lab
 * @param {string} format
 */
async function save(lab, format) {
  const [download] = await Promise.all([
    lab.page.waitForEvent("download"),
    lab.page.locator(`button[data-save=${format}]`).click(),
  ]);
  return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) };
}

for (const bench of BENCHES) {
  test(`${bench.name}: CSV, SVG and PNG are files another program can read`, async (t) => {
    const lab = await visit(t, `#v=1&bench=${bench.id}`);

    const csv = await save(lab, "csv");
    assert.match(csv.name, /^[\w.-]+\.csv$/);
    const [head = "", ...rows] = csv.bytes.toString("utf8").trim().split(/\r?\n/);
    assert.match(head, /\(.+\)/, "units in the header row");
    const columns = head.split(",").length;
    assert.ok(columns >= 2 && rows.length >= 10, `${columns} columns, ${rows.length} rows`);
    const numbers = (rows[4] ?? "").split(",").map(Number);
    assert.ok(numbers.slice(0, 2).every(Number.isFinite), rows[4]);

    const svg = await save(lab, "svg");
    assert.match(svg.name, /^[\w.-]+\.svg$/);
    const drawing = svg.bytes.toString("utf8");
    assert.match(drawing, /<svg[^>]*xmlns="http:\/\/www\.w3\.org\/2000\/svg"/);
    const parsed = await lab.page.evaluate((text) => {
      // Reading a file of our own as XML runs nothing in it.
      const file = new Blob([text], { type: "image/svg+xml" });
      const address = URL.createObjectURL(file);
      return new Promise((resolve) => {
        const image = new Image();
        image.onload = () => resolve(image.naturalWidth > 100);
        image.onerror = () => resolve(false);
        image.src = address;
      });
    }, drawing);
    assert.ok(parsed, "the SVG file can be drawn");

    const png = await save(lab, "png");
    assert.match(png.name, /^[\w.-]+\.png$/);
    assert.deepEqual([...png.bytes.subarray(0, 4)], [0x89, 0x50, 0x4e, 0x47]);
    assert.ok(png.bytes.readUInt32BE(16) >= 600, "wide enough for a handout");
  });
}
