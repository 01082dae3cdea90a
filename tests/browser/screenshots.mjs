/** Pictures of every bench, light and dark, wide and narrow, for the eye of a person. */

import { mkdir } from "node:fs/promises";
import { join } from "node:path";

import { OUT, launch, serveSite } from "./harness.mjs";
import { BENCHES, Lab } from "./lab.mjs";
import { LISTEN } from "./waiting.mjs";

const folder = join(OUT, "../screenshots");
await mkdir(folder, { recursive: true });
const [browser, server] = await Promise.all([launch(), serveSite()]);
for (const { id, operations } of BENCHES) {
  for (const operation of operations) {
    for (const width of [1280, 360]) {
      for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
        const context = await browser.newContext({
          viewport: { width, height: width === 360 ? 740 : 900 },
          colorScheme,
          deviceScaleFactor: width === 360 ? 2 : 1,
          reducedMotion: "reduce",
        });
        await context.addInitScript({ content: LISTEN });
        const page = await context.newPage();
        page.on("console", (message) => console.error(`${id}: ${message.text()}`));
        await page.goto(`${server.address}#v=1&bench=${id}&operation=${operation}`);
        await new Lab(page, server.address).ready();
        const path = join(folder, `${operation}-${width}-${colorScheme}.png`);
        await page.screenshot({ path, fullPage: true });
        console.log(path);
        await context.close();
      }
    }
  }
}
await browser.close();
await server.close();
