/**
 * What a lecture takes from the Run sheet: the handout as sheets of paper, slides for the back row
 * of a hall, a frame in somebody else's page, files of what is seen, links into a fresh profile.
 */

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { test } from "node:test";
import { inflateSync } from "node:zlib";

import { axeSource, useLab } from "./harness.mjs";
import { openSheet } from "./sheet.mjs";
import { answered, eventually } from "./waiting.mjs";

const visit = useLab();
const initScript = await axeSource();

/** @typedef {{ id: string, note?: string, step: { operation: string } }} Step */
/** @typedef {import("playwright-core").Page} Page */

/** @type {(name: string) => Promise<{ title: string, steps: Step[] }>} */
const flow = async (name) =>
  JSON.parse(await readFile(new URL(`../../www/flows/${name}.json`, import.meta.url), "utf8"));

/** Steps with a liquid, a powder or a vapor in the open. */
const WET = ["clean", "spin_coating", "development", "resist_strip", "wet_etch"];

const WHOLE_MS = 180_000;

/** @param {Page} page */
async function violations(page) {
  return page.evaluate(async () => {
    /** @typedef {{ id: string, help: string, nodes: { target: string[] }[] }} Violation */
    const axe =
      /** @type {{ axe: { run: (node: Document, options: object) => Promise<{ violations: Violation[] }> } }} */ (
        /** @type {unknown} */ (globalThis)
      ).axe;
    const values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];
    const found = await axe.run(document, { runOnly: { type: "tag", values } });
    return found.violations.map(
      ({ id, help, nodes }) => `${id}: ${help}: ${nodes.slice(0, 3).map((n) => n.target)}`,
    );
  });
}

/**
 * Opens the handout and waits until every section is drawn.
 * @param {import("node:test").TestContext} t
 * @param {string} name
 * @param {import("./harness.mjs").VisitOptions} [options]
 */
async function openHandout(t, name, options = {}) {
  const fragment = `#v=1&flow=${name}&show=handout`;
  const lab = await visit(t, `run-sheet.html${fragment}`, { ...options, load: false });
  await lab.page
    .locator(".handout-progress", { hasText: "ready to be printed" })
    .waitFor({ timeout: WHOLE_MS });
  return lab.page;
}

/**
 * The text of every sheet of a PDF that the browser wrote: its fonts map glyphs back to letters.
 * @param {Buffer} pdf
 */
function countPages(pdf) {
  return (pdf.toString("latin1").match(/\/Type\s*\/Page\b(?!s)/g) ?? []).length;
}

test("the handout of the short inverter has every step, its section, and its cautions", async (t) => {
  const page = await openHandout(t, "short-cmos");
  const { steps, title } = await flow("short-cmos");
  assert.equal(await page.locator("#handout-title").textContent(), title);
  const rows = await page.locator(".handout-step").evaluateAll((items) =>
    items.map((item) => ({
      id: item.getAttribute("data-step") ?? "",
      head: item.querySelector("h3")?.textContent ?? "",
      words: item.querySelector(".handout-words")?.textContent ?? "",
      box: item.querySelector("svg")?.getAttribute("viewBox") ?? "",
      exaggeration: [...item.querySelectorAll("svg text")]
        .map((one) => one.textContent ?? "")
        .filter((text) => /as large as widths/.test(text)),
      cautions: [...item.querySelectorAll(".handout-caution")].map((one) => one.textContent ?? ""),
      text: item.textContent ?? "",
    })),
  );
  assert.deepEqual(
    rows.map(({ id }) => id),
    steps.map(({ id }) => id),
  );
  for (const [k, { step }] of steps.entries()) {
    const row = rows[k];
    assert.ok(row);
    assert.ok(row.head.includes(row.id) && row.words.length > 2, row.id);
    if (!WET.includes(step.operation)) continue;
    assert.ok(row.cautions.length > 0, `${row.id}: a caution`);
    assert.match(row.cautions[0] ?? "", /^(Danger|Warning|Caution) /, row.id);
    for (const word of ["Never ", "Wear", "First aid", "trained staff"]) {
      assert.ok(row.text.includes(word), `${row.id}: ${word}`);
    }
  }
  // One scale throughout, said below each section.
  assert.equal(new Set(rows.map(({ box }) => box)).size, 1);
  assert.equal(new Set(rows.flatMap(({ exaggeration }) => exaggeration)).size, 1);
  assert.ok(rows.every(({ exaggeration }) => exaggeration.length === 1));
  assert.ok((await page.locator(".handout-measured tbody tr").count()) > 3);
  const warned = await page.locator(".handout-warning").count();
  assert.ok(warned > 0, "this flow has warnings");
});

test("printed: nothing but the handout, no step is split, sheets are numbered", async (t) => {
  const page = await openHandout(t, "short-cmos");
  const { steps } = await flow("short-cmos");
  await page.setViewportSize({ width: 690, height: 1000 });
  const pdf = await page.pdf({ format: "A4" });
  assert.equal(pdf.subarray(0, 5).toString(), "%PDF-");
  const count = countPages(pdf);
  assert.ok(count >= 8 && count <= 40, `${count} sheets`);
  assert.ok(pdf.length < 6_000_000, `${pdf.length} bytes: hatches are lines, not pictures`);
  await page.emulateMedia({ media: "print" });
  await page.evaluate(() => window.dispatchEvent(new Event("beforeprint")));
  const styles = await page.evaluate(() => {
    const seen = (/** @type {string} */ selector) => {
      const element = document.querySelector(selector);
      return element instanceof HTMLElement && element.checkVisibility();
    };
    return {
      header: seen("body > header"),
      sheet: seen("#sheet"),
      bar: seen(".handout-bar"),
      first: seen(".handout-step .handout-caution .signal"),
      split: [...document.querySelectorAll(".handout-step")].filter(
        (step) => getComputedStyle(step).breakInside !== "avoid",
      ).length,
      // Higher than a sheet, a step would be split all the same.
      highest: Math.max(
        ...[...document.querySelectorAll(".handout-step")].map(
          (step) => step.getBoundingClientRect().height,
        ),
      ),
      margins: document.adoptedStyleSheets
        .flatMap((sheet) => [...sheet.cssRules])
        .map((rule) => rule.cssText)
        .join(" "),
    };
  });
  assert.deepEqual(
    [styles.header, styles.sheet, styles.bar, styles.first],
    [false, false, false, true],
  );
  assert.equal(styles.split, 0);
  assert.ok(styles.highest < 950, `${styles.highest} px of a sheet's 1005`);
  assert.match(styles.margins, /counter\(page\)/);
  assert.match(styles.margins, /site's rules/);
  await page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
  assert.equal(await page.locator(".handout-step").count(), steps.length);
});

test("the browser's own print command gives the handout, too", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await sheet.done();
  const { steps } = await flow("mos-capacitor");
  // The part of the page that makes it is fetched once the flow has run.
  await sheet.page.locator("#handout").waitFor({ state: "attached" });
  await sheet.page.emulateMedia({ media: "print" });
  await sheet.page.evaluate(() => window.dispatchEvent(new Event("beforeprint")));
  const drawn = sheet.page.locator(".handout-step svg path.fill");
  await drawn.first().waitFor();
  assert.equal(await sheet.page.locator(".handout-step").count(), steps.length);
  for (const { id, step } of steps) {
    if (!WET.includes(step.operation)) continue;
    const first = sheet.page.locator(`.handout-step[data-step="${id}"] .handout-caution`).first();
    assert.ok(await first.isVisible(), id);
  }
  await sheet.page.emulateMedia({ media: null });
  await sheet.page.evaluate(() => window.dispatchEvent(new Event("afterprint")));
  assert.ok(await sheet.section().isVisible());
  assert.ok(await sheet.page.locator("#handout").isHidden());
});

test("the whole inverter makes a handout, with notes, and the way back", async (t) => {
  const page = await openHandout(t, "full-cmos");
  const { steps } = await flow("full-cmos");
  assert.equal(await page.locator(".handout-step svg").count(), steps.length);
  await page.locator("#leave-handout").click();
  await page.locator("sheet-section[data-step]").waitFor();
  await page.locator("#note").first().fill("Ask for the log book.");
  await page.locator("#note").press("Tab");
  await page.locator("#show-handout").click();
  await page.locator(".handout-note", { hasText: "Ask for the log book." }).waitFor();
  await page.waitForURL(/show=handout/);
});

for (const [width, height, least] of /** @type {const} */ ([
  [1280, 720, 24],
  [1920, 1080, 36],
])) {
  test(`slides at ${width} x ${height}: by keys, letters for the back row, nothing cut off`, async (t) => {
    const lab = await visit(t, "run-sheet.html#v=1&flow=full-cmos&show=slides", {
      width,
      height,
      load: false,
    });
    const { page } = lab;
    const slide = page.locator("#slides[data-step]");
    await slide.waitFor({ timeout: WHOLE_MS });
    await page.waitForFunction(() => performance.getEntriesByName("flow-done").length > 0, null, {
      timeout: WHOLE_MS,
    });
    const { steps } = await flow("full-cmos");
    await page.waitForFunction(() => document.activeElement?.id === "slide-name");
    const keys = ["ArrowRight", "PageDown", " ", "ArrowDown"];
    for (const [k, { id, step }] of steps.entries()) {
      await page.locator(`#slides[data-step="${k + 1}"]:not(.stale)`).waitFor();
      const seen = await page.evaluate(() => {
        const place = /** @type {HTMLElement} */ (document.querySelector("#slides"));
        const box = /** @type {HTMLElement} */ (place.querySelector(".slide-picture"));
        const within = box.getBoundingClientRect();
        /** @type {string[]} */
        const cut = [];
        for (const text of place.querySelectorAll("svg text")) {
          const { left, right, top, bottom } = text.getBoundingClientRect();
          const out = left < within.left - 1 || right > within.right + 1;
          if (out || top < within.top - 3 || bottom > within.bottom + 3) {
            cut.push(text.textContent ?? "");
          }
        }
        const sizes = [...place.querySelectorAll("*")]
          .filter(
            (one) =>
              !one.classList.contains("visually-hidden") &&
              [...one.childNodes].some((n) => n.nodeType === 3 && n.textContent?.trim() !== ""),
          )
          .map((one) => Number.parseFloat(getComputedStyle(one).fontSize));
        const svg = /** @type {SVGSVGElement} */ (place.querySelector("svg"));
        return {
          name: place.querySelector("h2")?.textContent ?? "",
          progress: place.querySelector(".slide-progress")?.textContent ?? "",
          smallest: Math.min(...sizes),
          // Letters are not made smaller by the picture around them.
          shrunk: svg.getScreenCTM()?.a ?? 0,
          cut,
          scrolls: [
            document.documentElement.scrollHeight - innerHeight,
            document.documentElement.scrollWidth - innerWidth,
          ],
          caution: place.querySelector(".slide-cautions")?.textContent ?? "",
          section: box.clientHeight,
        };
      });
      assert.ok(seen.name.includes(id), `${seen.name}: ${id}`);
      assert.equal(seen.progress, `${k + 1} / ${steps.length}`);
      assert.ok(seen.smallest >= least, `${id}: letters of ${seen.smallest} px`);
      assert.ok(seen.shrunk > 0.995, `${id}: ${seen.shrunk}`);
      assert.deepEqual(seen.cut, [], `${id}: cut off`);
      assert.ok(
        seen.scrolls.every((more) => more <= 0),
        `${id}: ${seen.scrolls}`,
      );
      assert.ok(seen.section >= 0.3 * height, `${id}: a section of ${seen.section} px`);
      if (WET.includes(step.operation)) assert.match(seen.caution, /(Danger|Warning).*Never /s, id);
      if (k < steps.length - 1) await page.keyboard.press(keys[k % keys.length] ?? "");
    }
    await page.keyboard.press("Home");
    await page.locator('#slides[data-step="1"]').waitFor();
    await page.keyboard.press("End");
    await page.locator(`#slides[data-step="${steps.length}"]`).waitFor();
    await page.keyboard.press("PageUp");
    await page.locator(`#slides[data-step="${steps.length - 1}"]`).waitFor();
    await page.keyboard.press("Escape");
    await page.locator("sheet-section[data-step]").waitFor();
    await page.waitForFunction(() => document.activeElement?.id === "show-slides");
    await page.waitForURL((url) => !/show=/.test(url.hash));
  });
}

for (const { name, options } of [
  { name: "light", options: { colorScheme: /** @type {const} */ ("light") } },
  { name: "dark", options: { colorScheme: /** @type {const} */ ("dark") } },
  { name: "360 px", options: { width: 360, height: 740 } },
  { name: "forced colors", options: { forcedColors: /** @type {const} */ ("active") } },
]) {
  test(`${name}: slides, handout and frame have no violation, and fit`, async (t) => {
    for (const [what, place, ready] of /** @type {const} */ ([
      [
        "#v=1&flow=mos-capacitor&step=metal-etch&show=slides",
        "run-sheet.html",
        "#slides[data-step]",
      ],
      ["#v=1&flow=mos-capacitor&show=handout", "run-sheet.html", ".handout-measured tbody tr"],
      ["#v=1&flow=mos-capacitor&step=c1", "run-sheet.html?embed=1", "sheet-section[data-step]"],
    ])) {
      const lab = await visit(t, place + what, { ...options, initScript, load: false });
      await lab.page.locator(ready).first().waitFor({ timeout: WHOLE_MS });
      await answered(lab.page, { patience: WHOLE_MS });
      assert.ok(await lab.fitsWidth(), `${what}: no sideways scrolling`);
      assert.deepEqual(await violations(lab.page), [], what);
    }
  });
}

/**
 * A page of somebody else, with a frame of the lab.
 * @param {string} frame
 */
async function foreignPage(frame) {
  const body = `<!doctype html><html lang="en"><title>A lecture</title><body>${frame}</body></html>`;
  const server = createServer((_, response) => {
    response.writeHead(200, { "content-type": "text/html; charset=utf-8" }).end(body);
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", () => resolve(undefined)));
  const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
  return {
    address: `http://127.0.0.1:${port}/`,
    close: () => {
      server.closeAllConnections();
      server.close();
    },
  };
}

for (const sandbox of ["as copied", "of opaque origin"]) {
  test(`a frame in a page of another origin, ${sandbox}, shows the step and its cautions`, async (t) => {
    const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=metal-etch", {
      // A frame that is not let out says so; the lab's own server is asked for all the same.
      console: /sandbox|favicon/i,
    });
    await sheet.done();
    await sheet.page.locator("#copy-frame").click();
    const copied = await eventually(async () => {
      const text = await sheet.page.locator("#link-text").inputValue();
      assert.match(text, /^<iframe src="http[^"]+\?embed=1#v=1&amp;flow=mos-capacitor/);
      return text;
    });
    for (const word of [' title="', ' width="', ' height="', ' sandbox="allow-scripts']) {
      assert.ok(copied.includes(word), word);
    }
    const frame =
      sandbox === "as copied"
        ? copied
        : copied.replace("allow-scripts allow-same-origin", "allow-scripts");
    const foreign = await foreignPage(frame);
    t.after(foreign.close);
    const context = await sheet.page.context().browser()?.newContext();
    assert.ok(context);
    t.after(() => context.close());
    // Project pages and most static hosts let every origin read their files; so does this.
    const labOrigin = new URL(sheet.page.url()).origin;
    await context.route(`${labOrigin}/**`, async (route) => {
      const response = await route.fetch();
      const headers = { ...response.headers(), "access-control-allow-origin": "*" };
      await route.fulfill({ response, headers });
    });
    const page = await context.newPage();
    await page.goto(foreign.address);
    const inside = page.frameLocator("iframe");
    await inside.locator('sheet-section[data-step="8"]:not(.stale)').waitFor({ timeout: WHOLE_MS });
    assert.ok(await inside.locator("lab-caution .caution .first-aid").first().isVisible());
    assert.ok(await inside.locator("lab-hazard-line .signal").isVisible());
    assert.ok(await inside.locator("footer .deferral").isVisible());
    for (const gone of ["header.frame", "sheet-traveller", "sheet-editor", "#show-slides"]) {
      assert.ok(await inside.locator(gone).isHidden(), gone);
    }
    await inside.getByRole("button", { name: "Step back" }).click();
    await inside.locator('sheet-section[data-step="7"]:not(.stale)').waitFor({ timeout: WHOLE_MS });
    const link = inside.getByRole("link", { name: "Open in the lab" });
    await eventually(async () =>
      assert.match((await link.getAttribute("href")) ?? "", /^http.*run-sheet\.html#v=1&flow=mos/),
    );
    assert.equal(await link.getAttribute("target"), "_blank");
  });
}

test("a frame leaves the work of its visitor alone", async (t) => {
  const own = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await own.done();
  await own.type("time_min", "77");
  await own.done();
  await own.kept(/mos-capacitor.*77/);
  const address = own.page.url().replace(/#.*/, "");
  await own.page.goto(`${address}?embed=1#v=1&flow=diffused-resistor`);
  await own.section().waitFor();
  // When things have come to rest the address is written, and work would be kept.
  await own.addressed(/flow=diffused-resistor&step=/);
  await own.page.goto(address);
  await own.section().waitFor();
  await own.page.waitForFunction(() => document.title.startsWith("mos-capacitor"));
});

/**
 * Clicks a button and gives the file that comes.
 * @param {Page} page
 * @param {string} id
 */
async function fileOf(page, id) {
  const [download] = await Promise.all([
    page.waitForEvent("download"),
    page.locator(`#${id}`).click(),
  ]);
  return { name: download.suggestedFilename(), bytes: await readFile(await download.path()) };
}

test("files of what is seen: pictures, reports, measurements", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=sinter", {
    colorScheme: "dark",
  });
  await sheet.done();
  await sheet.shows(10);
  await sheet.look();
  await sheet.page.locator("sheet-layout svg path").first().waitFor();
  for (const [what, least] of /** @type {const} */ ([
    ["section", 8],
    ["layout", 3],
  ])) {
    const svg = await fileOf(sheet.page, `save-${what}-svg`);
    assert.equal(svg.name, `mos-capacitor-sinter-${what}.svg`);
    // The lab's own page reads no markup from texts: its policy forbids that.
    const reader = await sheet.page.context().newPage();
    const read = await reader.evaluate((text) => {
      const parsed = new DOMParser().parseFromString(text, "image/svg+xml");
      const root = parsed.documentElement;
      return {
        wrong: parsed.querySelector("parsererror")?.textContent ?? "",
        name: `${root.namespaceURI} ${root.localName}`,
        title: root.querySelector("title")?.textContent ?? "",
        font: root.getAttribute("font-family"),
        paths: root.querySelectorAll("path").length,
        texts: [...root.querySelectorAll("text")].map((one) => one.textContent ?? ""),
        ids: [...root.querySelectorAll("[id]")].map(({ id }) => id),
        classes: root.querySelectorAll("[class], [style]").length,
        fills: [...root.querySelectorAll("path")].map((one) => one.getAttribute("fill")),
        inks: [...root.querySelectorAll("text")].map((one) => one.getAttribute("fill")),
      };
    }, svg.bytes.toString("utf8"));
    await reader.close();
    assert.equal(read.wrong, "");
    assert.equal(read.name, "http://www.w3.org/2000/svg svg");
    assert.ok(read.title.length > 10, read.title);
    assert.equal(read.font, "sans-serif");
    assert.ok(read.paths >= least, `${read.paths} paths`);
    assert.ok(
      read.texts.some((text) => /(µm|nm)$/.test(text)),
      "a scale bar",
    );
    assert.ok(read.ids.every((id) => id.startsWith("hatch-")));
    assert.equal(read.classes, 0);
    if (what === "section") {
      // Silicon with acceptors, and its hatch.
      assert.ok(read.fills.includes("rgb(245, 211, 140)"), read.fills.join());
      assert.ok(read.fills.includes("url(#hatch-p_silicon)"), read.fills.join());
      assert.ok(!read.fills.includes("rgb(0, 0, 0)"), "nothing is black");
    }
    // The light palette, though the page is dark.
    assert.ok(read.inks.includes("rgb(32, 36, 42)"), read.inks.join());
    const png = await fileOf(sheet.page, `save-${what}-png`);
    assert.equal(png.name, `mos-capacitor-sinter-${what}.png`);
    assert.equal(png.bytes.subarray(0, 8).toString("hex"), "89504e470d0a1a0a");
    const [width, height] = [png.bytes.readUInt32BE(16), png.bytes.readUInt32BE(20)];
    const box = await sheet.page
      .locator(`sheet-${what} svg`)
      .first()
      .evaluate((one) => {
        const { width, height } = /** @type {SVGSVGElement} */ (one).viewBox.baseVal;
        return [width, height];
      });
    assert.equal(width, Math.round(2 * (box[0] ?? 0)));
    assert.equal(height, Math.round(2 * ((box[1] ?? 0) + 30)));
    assert.ok(pngColors(png.bytes) > 5, "the picture is drawn");
  }
  const json = await fileOf(sheet.page, "save-report-json");
  assert.equal(json.name, "mos-capacitor-sinter-report.json");
  const report = JSON.parse(json.bytes.toString("utf8"));
  assert.equal(report.report.id, "sinter");
  assert.ok(Object.keys(report.report.results).length > 0);
  const csv = await fileOf(sheet.page, "save-report-csv");
  const lines = csv.bytes
    .toString("utf8")
    .replace(/^\ufeff/, "")
    .trim()
    .split("\r\n");
  assert.equal(lines[0], "kind,name,value,unit");
  assert.ok(lines.length > 1);
  const measured = await fileOf(sheet.page, "save-measurements-json");
  assert.equal(measured.name, "mos-capacitor-measurements.json");
  const { measurements } = JSON.parse(measured.bytes.toString("utf8"));
  assert.ok(measurements.length > 2);
  const table = await fileOf(sheet.page, "save-measurements-csv");
  const rows = table.bytes.toString("utf8").trim().split("\r\n");
  assert.equal(rows.length, 1 + measurements.length);
});

/**
 * How many different bytes stand in the pixels of a PNG, as a sign that something is drawn.
 * @param {Buffer} png
 */
function pngColors(png) {
  /** @type {Buffer[]} */
  const parts = [];
  for (let at = 8; at + 8 < png.length;) {
    const length = png.readUInt32BE(at);
    if (png.toString("latin1", at + 4, at + 8) === "IDAT") {
      parts.push(png.subarray(at + 8, at + 8 + length));
    }
    at += length + 12;
  }
  return new Set(inflateSync(Buffer.concat(parts))).size;
}

test("a link shows the same pixels in a fresh profile", async (t) => {
  const hash = "#v=1&flow=mos-capacitor&step=metal-etch&x=100&from=40&to=160";
  /** @type {string[]} */
  const shots = [];
  for (let k = 0; k < 2; k += 1) {
    const sheet = await openSheet(visit, t, hash);
    await sheet.done();
    await sheet.shows(8);
    await sheet.look();
    const shot = await sheet.page.locator("sheet-section .section-frame").screenshot();
    shots.push(shot.toString("base64"));
  }
  const sheet = await openSheet(visit, t, hash);
  const share = await sheet.page.evaluate(async (urls) => {
    const pixels = await Promise.all(
      urls.map(async (data) => {
        const image = new Image();
        image.src = `data:image/png;base64,${data}`;
        await image.decode();
        const canvas = document.createElement("canvas");
        [canvas.width, canvas.height] = [image.width, image.height];
        const context = canvas.getContext("2d");
        context?.drawImage(image, 0, 0);
        return context?.getImageData(0, 0, image.width, image.height).data ?? [];
      }),
    );
    const [a = [], b = []] = pixels;
    let differ = Math.abs(a.length - b.length);
    for (let k = 0; k < a.length; k += 1) if (Math.abs((a[k] ?? 0) - (b[k] ?? 0)) > 8) differ += 1;
    return differ / Math.max(1, a.length);
  }, shots);
  assert.ok(share < 0.001, `${(100 * share).toFixed(3)} % of the pixels differ`);
});

test("links to slides and handouts are read strictly", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&show=everything");
  await sheet.page.locator("#notices", { hasText: /show: everything/ }).waitFor();
});

test("a link that is followed inside the page shows its step, though nothing runs again", async (t) => {
  const sheet = await openSheet(visit, t, "#v=1&flow=mos-capacitor&step=gate");
  await sheet.done();
  const { steps } = await flow("mos-capacitor");
  await sheet.page.evaluate(() => {
    location.hash = "#v=1&flow=mos-capacitor&step=metal";
  });
  await sheet.shows(3);
  await eventually(async () =>
    assert.deepEqual(
      await sheet.rows().evaluateAll((rows) => rows.map((row) => row.dataset.state)),
      steps.map(() => "run"),
    ),
  );
});
