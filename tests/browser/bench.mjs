/**
 * Times the built lab in a real browser and prints one JSON object: `requests` with the median of
 * each request of the shared list, `paints` with the time from moving a slider to the painted
 * frame, as the page measures it itself, `ions` with the times of a run of single ions, `flows`
 * with those of a whole flow on the Run sheet.
 */

import { readFile } from "node:fs/promises";

import { launch, serveSite } from "./harness.mjs";
import { Lab } from "./lab.mjs";
import { Sheet } from "./sheet.mjs";
import { LISTEN } from "./waiting.mjs";

const REQUESTS = JSON.parse(
  await readFile(new URL("../../crates/process/benches/requests.json", import.meta.url), "utf8"),
);

/** The sliders that are moved, and how often. */
const SLIDERS = [
  { bench: "furnace", path: "temperature_c" },
  { bench: "furnace", path: "time_min" },
  { bench: "spinner", path: "speed_rpm" },
  { bench: "developer", path: "time_s" },
  { bench: "developer", path: "exposure.dose_mj_cm2" },
  { bench: "aligner", path: "dose_mj_cm2" },
  { bench: "aligner", path: "defocus_um" },
  { bench: "wet-bench", path: "time_s" },
  { bench: "deposition", path: "temperature_c" },
  { bench: "deposition", path: "time_min" },
  { bench: "dry-etcher", path: "time_s" },
  { bench: "polisher", path: "time_s" },
  { bench: "diffusion-tube", path: "temperature_c" },
  { bench: "implanter", path: "energy_kev" },
  { bench: "four-point", path: "start.gaussian.dose_cm2" },
];
const MOVES = 120;

/**
 * @param {number[]} times
 * @param {number} part
 */
function quantile(times, part) {
  const sorted = [...times].sort((a, b) => a - b);
  return sorted[Math.min(sorted.length - 1, Math.floor(part * sorted.length))] ?? NaN;
}

const [browser, server] = await Promise.all([launch(), serveSite()]);
const page = await browser.newPage({ viewport: { width: 1280, height: 900 } });
await page.addInitScript({ content: LISTEN });
await page.goto(server.address);
await new Lab(page, server.address).ready();

const requests = [];
for (const [name, request] of Object.entries(REQUESTS)) {
  const times = await page.evaluate(async (json) => {
    const { BENCHES } = await import(new URL("js/benches.js", document.baseURI).href);
    const { family } = BENCHES.find((/** @type {{ operations: unknown[] }} */ bench) =>
      bench.operations.includes(/** @type {{ operation?: unknown }} */ (json).operation),
    );
    const glue = await import(new URL(`pkg/${family}.js`, document.baseURI).href);
    await glue.default({
      module_or_path: new URL(`pkg/${family}_bg.wasm`, document.baseURI),
    });
    /** @param {number} count */
    const run = (count) => {
      const start = performance.now();
      for (let k = 0; k < count; k += 1) glue.bench(json);
      return (performance.now() - start) / count;
    };
    run(3);
    // The clock ticks in tenths of a millisecond: each sample lasts long enough for that.
    const count = Math.max(1, Math.ceil(10 / Math.max(run(1), 0.05)));
    return Array.from({ length: 31 }, () => run(count));
  }, /** @type {object} */ (request));
  requests.push({ name, median_ms: quantile(times, 0.5) });
}

const paints = [];
for (const { bench, path } of SLIDERS) {
  await page.goto(`${server.address}#v=1&bench=${bench}`);
  await page.reload();
  const lab = new Lab(page, server.address);
  await lab.ready();
  await lab.slider(path).focus();
  await page.evaluate(() => performance.clearMeasures("input-to-paint"));
  for (let k = 0; k < MOVES; k += 1) {
    await page.keyboard.press(k < MOVES / 2 ? "ArrowRight" : "ArrowLeft");
    await page.waitForTimeout(20);
  }
  await lab.settle();
  const times = await page.evaluate(() =>
    performance.getEntriesByName("input-to-paint").map((entry) => entry.duration),
  );
  paints.push({
    name: `${bench}, ${path}`,
    count: times.length,
    median_ms: quantile(times, 0.5),
    p95_ms: quantile(times, 0.95),
  });
}

/**
 * Single ions in the page: from the wish to the first tracks, to the last ion, and from Cancel to
 * the end.
 * @param {string} fragment
 */
async function timeIons(fragment) {
  await page.goto(`${server.address}#v=1&bench=implanter`);
  await page.reload();
  await new Lab(page, server.address).ready();
  return page.evaluate(async (hash) => {
    /** @param {() => unknown} condition */
    const until = async (condition) => {
      while (!condition()) await new Promise((resolve) => requestAnimationFrame(resolve));
      return performance.now();
    };
    const flies = () => document.querySelector("lab-reading .flown");
    /** @param {number} seed */
    const start = (seed) => {
      location.hash = `${hash}&seed=${seed}`;
      return performance.now();
    };
    const first = start(1);
    const seen = await until(flies);
    const landed = await until(() => !flies());
    start(2);
    await until(flies);
    await new Promise((resolve) => setTimeout(resolve, 250));
    const clicked = performance.now();
    /** @type {HTMLButtonElement | null} */
    const cancel = document.querySelector("lab-reading [data-verb=cancel]");
    cancel?.click();
    const ended = await until(() => !flies());
    const cancelMs = cancel ? ended - clicked : NaN;
    return { first_ms: seen - first, all_ms: landed - first, cancel_ms: cancelMs };
  }, fragment);
}

const ions = [
  {
    name: "5000 boron ions, 100 keV",
    ...(await timeIons("#v=1&bench=implanter&model=monte_carlo&ions=5000")),
  },
];

/**
 * A whole flow on the Run sheet: from opening its link to the first picture and to the last step,
 * from moving the scrubber to the painted frame, and from a changed parameter to the new picture.
 * @param {string} flow
 * @param {[step: string, path: string, value: string][]} edits in the last third
 */
async function timeFlow(flow, edits) {
  // A visit of its own: nothing is loaded yet.
  const visit = await browser.newPage({ viewport: { width: 1280, height: 900 } });
  await visit.addInitScript({ content: LISTEN });
  await visit.goto(`${server.address}run-sheet.html#v=1&flow=${flow}`);
  const sheet = new Sheet(visit);
  await sheet.section().waitFor({ timeout: 60_000 });
  await sheet.done();
  const [first, all] = await visit.evaluate(() =>
    ["section-shown", "flow-done"].map((mark) => performance.getEntriesByName(mark)[0]?.startTime),
  );
  const scrubs = await visit.evaluate(async () => {
    const slider = /** @type {HTMLInputElement} */ (document.getElementById("scrubber"));
    const section = /** @type {HTMLElement} */ (document.querySelector("sheet-section"));
    const painted = () =>
      new Promise((resolve) => {
        requestAnimationFrame(() => {
          const { port1, port2 } = new MessageChannel();
          port1.onmessage = resolve;
          port2.postMessage(null);
        });
      });
    const times = [];
    for (const by of [1, -1]) {
      const from = by > 0 ? 1 : Number(slider.max);
      for (let k = 1; k < Number(slider.max); k += 1) {
        const wanted = String(from + by * k);
        const start = performance.now();
        slider.value = wanted;
        slider.dispatchEvent(new InputEvent("input", { bubbles: true }));
        do await painted();
        while (section.dataset["step"] !== wanted);
        times.push(performance.now() - start);
        // A person's hand knows nothing of frames: scrubs fall anywhere between two of them.
        // After pauses of one length all would fall at the same place of a frame.
        await new Promise((resolve) => setTimeout(resolve, 30 + ((5 * k) % 17)));
      }
    }
    return times;
  });
  const changes = [];
  for (const [step, path, value] of edits) {
    await sheet.go(step);
    await visit.evaluate(() => {
      performance.clearMarks("field-set");
      performance.clearMarks("section-shown");
      performance.clearMarks("step-told");
    });
    await sheet.type(path, value);
    changes.push(
      await visit.evaluate(async () => {
        /** @param {string} mark */
        const last = (mark) => performance.getEntriesByName(mark).at(-1)?.startTime ?? Infinity;
        // The picture after the first step that ran again is the one that was waited for.
        const told = () => performance.getEntriesByName("step-told")[0]?.startTime ?? Infinity;
        const shown = () =>
          performance.getEntriesByName("section-shown").find((m) => m.startTime > told());
        while (!shown()) await new Promise((resolve) => requestAnimationFrame(resolve));
        return (shown()?.startTime ?? NaN) - last("field-set");
      }),
    );
    await sheet.done();
  }
  await visit.close();
  return {
    name: flow,
    first_ms: first,
    all_ms: all,
    scrub_ms: quantile(scrubs, 0.5),
    change_ms: quantile(changes, 0.5),
  };
}

const flows = [
  await timeFlow("full-cmos", [
    ["reflow", "time_min", "25"],
    ["contact-etch", "time_s", "250"],
    ["pplus-dope", "energy_kev", "35"],
    ["metal", "target_nm", "900"],
    ["metal-etch", "time_s", "110"],
  ]),
];

await browser.close();
await server.close();
console.log(JSON.stringify({ requests, paints, ions, flows }, null, 2));
