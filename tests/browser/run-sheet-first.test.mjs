/**
 * The first picture of the Run sheet waits for nothing that it does not need: its scripts are
 * announced in the page, the worker begins before the page stands, and the rest comes later.
 */

import assert from "node:assert/strict";
import { test } from "node:test";

import { useLab } from "./harness.mjs";
import { Sheet, openSheet } from "./sheet.mjs";

const visit = useLab();

const PLACE = "run-sheet.html";
/** Begins before the page; not announced, because it is asked for itself. */
const EARLY = "js/run-sheet/early.js";
const MAIN = "js/run-sheet/main.js";
/** The glue is imported under a name that is put together. */
const GLUE = "pkg/wafer.js";

/** A static import, over lines if it is long. */
const IMPORT = /^(?:import|export)\s(?:[\w\s{},*]+\sfrom\s)?"(\.[^"]+)";/gm;

/**
 * The scripts that are loaded before one can run: itself and all that it imports.
 * @param {string} script
 * @param {(path: string) => Promise<string>} read
 */
async function graph(script, read) {
  /** @type {Set<string>} */
  const found = new Set();
  const open = [script];
  for (let path = open.pop(); path !== undefined; path = open.pop()) {
    if (found.has(path)) continue;
    found.add(path);
    const text = await read(path);
    for (const [, name = ""] of text.matchAll(IMPORT)) {
      open.push(new URL(name, `http://site/${path}`).pathname.slice(1));
    }
  }
  return found;
}

test("the page announces the scripts of its first picture, and no other", async (t) => {
  const lab = await visit(t, PLACE, { load: false });
  const read = async (/** @type {string} */ path) => (await fetch(lab.address + path)).text();
  const needed = await graph(MAIN, read);
  assert.ok(needed.size > 20, `${needed.size} scripts were found`);
  const html = await read(PLACE);
  const links = [...html.matchAll(/<link rel="modulepreload" href="([^"]+)"/g)].map(
    ([, href = ""]) => href,
  );
  const wanted = new Set([...needed, GLUE]);
  wanted.delete(EARLY);
  assert.deepEqual([...links].sort(), [...wanted].sort());
  // What begins early comes first, with what it imports.
  const early = await graph(EARLY, read);
  early.delete(EARLY);
  assert.deepEqual(links.slice(0, early.size).sort(), [...early].sort());
  for (const path of ["js/run-sheet/later.js", "js/run-sheet/engine.js"]) {
    assert.ok(!needed.has(path), path);
  }
});

test("the worker and the flow are asked for while the page's own scripts are on their way", async (t) => {
  /** @type {Set<string>} */
  const asked = new Set();
  let begun = () => undefined;
  const both = new Promise((resolve) => (begun = () => void resolve(undefined)));
  const sheet = await openSheet(visit, t, "#v=1&flow=short-cmos&step=sinter", {
    prepare: async (page) => {
      page.context().on("request", (request) => {
        const name = new URL(request.url()).pathname.split("/").at(-1) ?? "";
        asked.add(name);
        if (asked.has("worker.js") && asked.has("short-cmos.json")) begun();
      });
      // The page does not stand before both were asked for.
      await page.route("**/run-sheet/page.js", async (route) => {
        await both;
        await route.continue();
      });
    },
  });
  await sheet.done();
  assert.equal(await sheet.rows().count(), Number(await sheet.scrubber().getAttribute("max")));
});

test("without the rest the section, its steps and its cautions are there, and it is asked for again", async (t) => {
  let blocked = true;
  const lab = await visit(t, `${PLACE}#v=1&flow=mos-capacitor&step=gate-oxidation`, {
    load: false,
    console: /later\.js|Failed to load resource|503/,
    prepare: async (page) => {
      await page.route("**/run-sheet/later.js*", (route) =>
        blocked ? route.fulfill({ status: 503, body: "busy" }) : route.continue(),
      );
    },
  });
  const sheet = new Sheet(lab.page);
  await sheet.section().waitFor({ timeout: 60_000 });
  await sheet.done();
  const notices = lab.page.locator("#notices");
  await notices.filter({ hasText: /could not be loaded/ }).waitFor();
  assert.ok((await sheet.cautions().count()) > 0);
  assert.ok(await lab.page.locator("#caution-line").isVisible());
  blocked = false;
  await lab.page.getByRole("button", { name: "Duplicate" }).click();
  await sheet.report().locator("dd").first().waitFor();
});

test("a worker that does not come is told, and can be started again", async (t) => {
  let blocked = true;
  const lab = await visit(t, `${PLACE}#v=1&flow=mos-capacitor`, {
    load: false,
    console: /worker\.js|Failed to load resource|503/,
    prepare: async (page) => {
      await page
        .context()
        .route("**/run-sheet/worker.js", (route) =>
          blocked ? route.fulfill({ status: 503, body: "busy" }) : route.continue(),
        );
    },
  });
  const again = lab.page.getByRole("button", { name: "Start it again" });
  await again.waitFor();
  blocked = false;
  await again.click();
  await new Sheet(lab.page).section().waitFor({ timeout: 60_000 });
});
