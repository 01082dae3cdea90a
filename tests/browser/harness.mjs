/**
 * A real browser on the built site. Every visit fails its test if the page wrote anything to the
 * console, threw, or asked anybody but its own server for anything.
 */

import assert from "node:assert/strict";
import { existsSync } from "node:fs";
import { mkdir, readFile } from "node:fs/promises";
import { createRequire } from "node:module";
import { dirname, join, resolve } from "node:path";
import { after, before } from "node:test";
import { fileURLToPath } from "node:url";
import { chromium } from "playwright-core";

import { Lab } from "./lab.mjs";
import { serve } from "./server.mjs";
import { LISTEN } from "./waiting.mjs";

const HERE = dirname(fileURLToPath(import.meta.url));
const SITE = resolve(process.env.BAREWAFER_SITE ?? join(HERE, "../../target/site"));
/** Screenshots and what a failed test leaves behind. */
export const OUT = resolve(process.env.BAREWAFER_OUT ?? join(HERE, "../../target/browser"));

const BROWSERS = ["/usr/bin/chromium", "/usr/bin/chromium-browser", "/usr/bin/google-chrome"];
const FLAGS =
  process.env.BAREWAFER_CHROMIUM_FLAGS ??
  "--headless=new --no-sandbox --disable-gpu --disable-quic --disable-background-networking " +
    "--disable-component-update --disable-sync --no-first-run";

/** @typedef {import("playwright-core").Page} Page */
/** @typedef {import("playwright-core").BrowserContextOptions} ContextOptions */
/**
 * @typedef {object} VisitOptions
 * @property {number} [width]
 * @property {number} [height]
 * @property {"light" | "dark"} [colorScheme]
 * @property {"active" | "none"} [forcedColors]
 * @property {"reduce" | "no-preference"} [reducedMotion]
 * @property {number} [pixelRatio]
 * @property {string} [initScript] JavaScript that runs before the page's own
 * @property {RegExp} [console] what the console is expected to say
 * @property {boolean} [load] false: do not wait for the lab to be ready
 * @property {(page: Page) => Promise<unknown>} [prepare] runs before the page is opened
 */

/** @returns {Promise<import("playwright-core").Browser>} */
export function launch() {
  const executablePath =
    process.env.BAREWAFER_CHROMIUM ?? BROWSERS.find((file) => existsSync(file));
  if (!executablePath) throw new Error("no browser: name one in BAREWAFER_CHROMIUM");
  return chromium.launch({
    executablePath,
    // A name that is looked up anywhere is a request to a third party: none resolves.
    args: [...FLAGS.split(" "), "--host-resolver-rules=MAP * ~NOTFOUND, EXCLUDE 127.0.0.1"],
  });
}

/** @returns {Promise<Awaited<ReturnType<typeof serve>>>} */
export function serveSite() {
  if (!existsSync(join(SITE, "index.html"))) {
    throw new Error(`there is no site at ${SITE}: run \`cargo xtask build\` first`);
  }
  return serve(SITE);
}

/**
 * Sets up browser and server for the tests of a file; gives the function that opens the lab.
 */
export function useLab() {
  /** @type {import("playwright-core").Browser} */
  let browser;
  /** @type {Awaited<ReturnType<typeof serve>>} */
  let server;
  before(async () => {
    [browser, server] = await Promise.all([launch(), serveSite()]);
  });
  after(async () => {
    await browser?.close();
    await server?.close();
  });

  /**
   * Opens the lab at a fragment such as `#v=1&bench=furnace` and watches it until the test ends.
   * @param {import("node:test").TestContext} t
   * @param {string} fragment
   * @param {VisitOptions} [options]
   * @returns {Promise<Lab>}
   */
  return async function visit(t, fragment = "", options = {}) {
    const context = await browser.newContext({
      viewport: { width: options.width ?? 1280, height: options.height ?? 900 },
      colorScheme: options.colorScheme ?? "light",
      forcedColors: options.forcedColors ?? "none",
      // Animations would make pictures of the same state differ.
      reducedMotion: options.reducedMotion ?? "reduce",
      deviceScaleFactor: options.pixelRatio ?? 1,
      acceptDownloads: true,
    });
    context.setDefaultTimeout(10_000);
    const complaints = watch(context, server.origin, options.console);
    await context.addInitScript({ content: LISTEN });
    if (options.initScript) await context.addInitScript({ content: options.initScript });
    const page = await context.newPage();
    t.after(async () => {
      const failed = !(/** @type {{ passed?: boolean }} */ (t).passed ?? true);
      if (failed) await leaveBehind(page, t.name);
      await context.close();
      assert.deepEqual(complaints, [], "console, errors and foreign requests");
    });
    await options.prepare?.(page);
    await page.goto(server.address + fragment);
    const lab = new Lab(page, server.address, complaints);
    if (options.load !== false) await lab.ready();
    return lab;
  };
}

/**
 * @param {import("playwright-core").BrowserContext} context
 * @param {string} origin
 * @param {RegExp} [expected]
 * @returns {string[]} filled while the page runs
 */
function watch(context, origin, expected) {
  /** @type {string[]} */
  const complaints = [];
  /** @param {string} text */
  const complain = (text) => {
    if (!expected?.test(text)) complaints.push(text);
  };
  context.on("console", (message) => complain(`console ${message.type()}: ${message.text()}`));
  context.on("weberror", (error) => complain(`error: ${error.error().message}`));
  context.on("request", (request) => {
    const url = request.url();
    const own = url.startsWith(`${origin}/`) || /^(data|blob):/.test(url);
    if (!own) complaints.push(`request: ${url}`);
  });
  context.on("requestfailed", (request) => {
    const error = request.failure()?.errorText;
    // A page that is left while its icon comes gives that up.
    if (error === "net::ERR_ABORTED" && request.url().endsWith("/icon.svg")) return;
    complain(`failed request: ${request.url()} ${error}`);
  });
  context.on("response", (response) => {
    if (response.status() >= 400) complain(`status ${response.status()}: ${response.url()}`);
  });
  return complaints;
}

/**
 * @param {Page} page
 * @param {string} name
 */
async function leaveBehind(page, name) {
  const file = join(OUT, "failed", `${name.replace(/[^a-z0-9]+/gi, "-").slice(0, 80)}.png`);
  await mkdir(dirname(file), { recursive: true });
  await page.screenshot({ path: file, fullPage: true }).catch(() => undefined);
}

/** The source of the accessibility checker, to be put into a page before its own scripts. */
export async function axeSource() {
  const file = createRequire(import.meta.url).resolve("axe-core/axe.min.js");
  return readFile(file, "utf8");
}
