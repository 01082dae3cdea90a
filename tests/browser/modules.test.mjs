/**
 * The kernel comes in parts: each is asked for when a bench first needs it and not before, one that
 * does not come is said, and what is shipped computes what the native kernel computes, to the bit.
 */

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { test } from "node:test";
import { gzipSync } from "node:zlib";

import { useLab } from "./harness.mjs";
import { BENCHES } from "./lab.mjs";

const visit = useLab();

const DIGESTS = new URL("../golden/parity_digest.txt", import.meta.url);
const REQUESTS = new URL("../golden/parity_requests.jsonl", import.meta.url);
const FAMILIES = ["films", "etching", "lithography", "doping"];
/** Bytes of the first load, as `cargo xtask build` holds it for the built files. */
const FIRST_LOAD_BYTES = 500_000;

/**
 * Notes what a page asks for.
 * @param {import("./harness.mjs").VisitOptions} [options]
 */
function asking(options = {}) {
  /** @type {Set<string>} */
  const asked = new Set();
  /** @type {Promise<[string, Buffer]>[]} */
  const bodies = [];
  return {
    /** @param {string} family */
    of: (family) => [...asked].filter((path) => path.includes(`/pkg/${family}`)),
    bodies: async () => new Map(await Promise.all(bodies)),
    options: /** @type {import("./harness.mjs").VisitOptions} */ ({
      ...options,
      prepare: async (page) => {
        page.context().on("request", (request) => asked.add(new URL(request.url()).pathname));
        page.context().on("response", (response) => {
          const path = new URL(response.url()).pathname;
          bodies.push(response.body().then((body) => [path, body]));
        });
        await options.prepare?.(page);
      },
    }),
  };
}

test("the first load stays small and holds one part of the kernel", async (t) => {
  const asked = asking();
  const lab = await visit(t, "", asked.options);
  assert.equal(asked.of("films").length, 2, "glue and module");
  assert.deepEqual(asked.of("doping"), []);
  const bodies = await asked.bodies();
  let bytes = 0;
  for (const body of bodies.values()) bytes += gzipSync(body, { level: 9 }).length;
  t.diagnostic(`${bytes} bytes after gzip in ${bodies.size} files`);
  assert.ok(bytes > 100_000, "the files were seen");
  assert.ok(bytes <= FIRST_LOAD_BYTES, `${bytes} bytes`);

  await lab.page.getByRole("link", { name: "Spinner" }).click();
  await lab.page.waitForFunction(() => document.title.startsWith("Spinner"));
  await lab.settle();
  assert.deepEqual(asked.of("doping"), [], "the spinner needs nothing more");
  await lab.page.getByRole("link", { name: "Implanter" }).click();
  await lab.page.waitForFunction(() => document.title.startsWith("Implanter"));
  await lab.ready();
  assert.equal(asked.of("doping").length, 2);
});

test("a link to a doping bench loads that part alone", async (t) => {
  const asked = asking();
  const lab = await visit(t, "#v=1&bench=implanter&energy_kev=60", asked.options);
  assert.equal(await lab.number("energy_kev").inputValue(), "60");
  assert.deepEqual(asked.of("films"), []);
  await lab.page.getByRole("link", { name: "Furnace" }).click();
  await lab.page.waitForFunction(() => document.title.startsWith("Furnace"));
  await lab.ready();
  assert.equal(asked.of("films").length, 2);
});

test("to and fro between parts every bench shows what a fresh visit shows", async (t) => {
  const lab = await visit(t);
  for (const name of ["Implanter", "Wet bench", "Diffusion tube", "Furnace"]) {
    const bench = BENCHES.find((one) => one.name === name);
    await lab.page.getByRole("link", { name }).click();
    await lab.page.waitForFunction((start) => document.title.startsWith(start), name);
    const here = await lab.settle();
    const fresh = await visit(t, `#v=1&bench=${bench?.id}`);
    assert.deepEqual(await fresh.settle(), here, name);
    assert.equal(await lab.cautions().count(), await fresh.cautions().count());
  }
  await lab.page.goBack();
  await lab.page.waitForFunction(() => document.title.startsWith("Diffusion tube"));
  await lab.settle();
});

/** @type {{ how: string, stop: (route: import("playwright-core").Route) => Promise<void> }[]} */
const FAILURES = [
  { how: "the server is busy", stop: (route) => route.fulfill({ status: 503, body: "busy" }) },
  { how: "the network is gone", stop: (route) => route.abort("internetdisconnected") },
];

for (const { how, stop } of FAILURES) {
  for (const file of ["doping.js*", "doping_bg.wasm"]) {
    test(`${file}: where ${how} it is said, the bench in view stays, and a retry works`, async (t) => {
      let blocked = true;
      const lab = await visit(t, "", {
        console: /doping|Failed to load resource/,
        prepare: async (page) => {
          await page.route(`**/pkg/${file}`, (route) => (blocked ? stop(route) : route.continue()));
        },
      });
      const before = await lab.settle();
      await lab.page.getByRole("link", { name: "Implanter" }).click();
      const words = lab.loading().getByText(/The doping part of the kernel could not be loaded/);
      await words.waitFor();
      assert.match((await words.textContent()) ?? "", /doping(_bg\.wasm|\.js)/, "names the file");
      assert.deepEqual(await lab.look(), before, "the furnace stays");
      await lab.drag("temperature_c", 0.8);
      await lab.changed(before);

      const retry = lab.page.getByRole("button", { name: /again|retry/i });
      await retry.click();
      await words.waitFor();
      blocked = false;
      await retry.click();
      await lab.page.waitForFunction(() => document.title.startsWith("Implanter"));
      await lab.ready();
      assert.ok(await lab.loading().isHidden());
      const moved = await lab.settle();
      await lab.drag("energy_kev", 0.6);
      await lab.changed(moved);
    });
  }
}

test("a part that takes its time is announced, and a second thought is followed", async (t) => {
  /** @type {(() => void)[]} */
  const held = [];
  const lab = await visit(t, "", {
    prepare: (page) =>
      page.route("**/pkg/doping_bg.wasm", async (route) => {
        await new Promise((resolve) => held.push(() => resolve(undefined)));
        await route.continue();
      }),
  });
  await lab.page.getByRole("link", { name: "Implanter" }).click();
  const words = lab.loading().getByText(/Loading the doping part of the kernel/);
  await words.waitFor();
  await lab.page.getByRole("link", { name: "Spinner" }).click();
  await lab.page.waitForFunction(() => document.title.startsWith("Spinner"));
  await words.waitFor({ state: "hidden" });
  const spinner = await lab.settle();
  const late = lab.page.waitForResponse("**/pkg/doping_bg.wasm");
  for (const release of held) release();
  await (await late).finished();
  assert.deepEqual(await lab.settle(), spinner, "the part that came late changes nothing");
});

test("every part knows all fields of the forms of its benches", async (t) => {
  const lab = await visit(t);
  const unknown = await lab.page.evaluate(async () => {
    /** @param {string} path */
    const load = (path) => import(new URL(path, document.baseURI).href);
    const [{ BENCHES }, { FORMS }, { describe }] = await Promise.all(
      ["js/benches.js", "js/forms.js", "js/schema.js"].map(load),
    );
    /** @type {string[]} */
    const missing = [];
    for (const { family, operations } of BENCHES) {
      const glue = await load(`pkg/${family}.js`);
      await glue.default({ module_or_path: new URL(`pkg/${family}_bg.wasm`, document.baseURI) });
      const schema = glue.schema();
      for (const operation of operations) {
        // What a form says of its own texts needs no schema.
        const { groups, start, texts = {} } = FORMS[operation];
        /** @typedef {{ fields: string[], settings: object }} Choice */
        /** @type {(string | import("../../www/js/types.js").Mode
         *   | import("../../www/js/types.js").Condition)[]} */
        const items = groups.flatMap((/** @type {{ items: unknown[] }} */ group) => group.items);
        /** @type {Choice[]} */
        const choices = items.flatMap((item) => {
          if (typeof item === "string") return [{ fields: [item], settings: {} }];
          if ("when" in item) return [{ fields: item.fields, settings: { [item.when]: item.is } }];
          return item.options.map(({ word, fields }) => ({
            fields,
            settings: { [item.mode]: word },
          }));
        });
        for (const { fields, settings } of choices) {
          for (const path of fields) {
            const known = describe(schema, operation, path, { ...start, ...settings });
            if (!known && !(path in texts)) missing.push(`${operation} ${path}`);
          }
        }
      }
    }
    return missing;
  });
  assert.deepEqual(unknown, []);
});

test("every part of the shipped kernel gives the native bits", async (t) => {
  const lab = await visit(t);
  const requests = (await readFile(REQUESTS, "utf8")).trim().split("\n");
  const golden = (await readFile(DIGESTS, "utf8"))
    .split("\n")
    .filter((line) => line !== "" && !line.startsWith("#"));
  /** @type {string[]} */
  const found = [];
  for (const family of FAMILIES) {
    const lines = await lab.page.evaluate(digests, { family, requests });
    assert.ok(lines.length > 0, family);
    found.push(...lines);
  }
  assert.deepEqual(found.sort(), golden.sort());
});

/**
 * In the page: digests of the reports of a family, as `parity.rs` makes them.
 * @param {{ family: string, requests: string[] }} task
 * @returns {Promise<string[]>}
 */
async function digests({ family, requests }) {
  const glue = await import(new URL(`pkg/${family}.js`, document.baseURI).href);
  await glue.default({ module_or_path: new URL(`pkg/${family}_bg.wasm`, document.baseURI) });
  const encoder = new TextEncoder();
  /** @type {{ operation: string }[]} */
  const forms = glue.schema();
  return forms.map(({ operation }) => {
    const asked = requests.filter((text) => JSON.parse(text).operation === operation);
    // FNV-1a of 64 bits in two halves; the prime is 2^40 + 0x1b3.
    let [high, low] = [0xcbf29ce4, 0x84222325];
    let answered = 0;
    for (const text of asked) {
      let report;
      try {
        report = glue.benchText(text);
        answered += 1;
      } catch (thrown) {
        // In the order in which the kernel writes the fields.
        const { code, field, value, allowed, message, hint } =
          /** @type {Record<string, string>} */ (thrown);
        report = JSON.stringify({ code, field, value, allowed, message, hint });
      }
      for (const byte of encoder.encode(report)) {
        low = (low ^ byte) >>> 0;
        const product = low * 0x1b3;
        high = (high * 0x1b3 + low * 0x100 + Math.floor(product / 0x1_0000_0000)) >>> 0;
        low = product >>> 0;
      }
    }
    const digest = [high, low].map((half) => half.toString(16).padStart(8, "0")).join("");
    return `${operation} ${digest} ${answered} of ${asked.length}`;
  });
}
