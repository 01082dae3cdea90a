/** Serves the built site on this machine, below a path: as a project-pages host would. */

import { createServer } from "node:http";
import { readFile } from "node:fs/promises";
import { extname, join, normalize, sep } from "node:path";

/** Not the root, so that an address starting with "/" in the page breaks the tests. */
const BELOW = "/college/bare-wafer/";

const TYPES = {
  ".html": "text/html; charset=utf-8",
  ".js": "text/javascript; charset=utf-8",
  ".css": "text/css; charset=utf-8",
  ".json": "application/json",
  ".wasm": "application/wasm",
  ".svg": "image/svg+xml",
  ".webmanifest": "application/manifest+json",
};

/**
 * @param {string} folder
 * @returns {Promise<{ address: string, origin: string, close: () => Promise<void> }>}
 */
export async function serve(folder) {
  const server = createServer(async (request, response) => {
    const path = new URL(request.url ?? "/", "http://127.0.0.1").pathname;
    const name = path.startsWith(BELOW) ? decodeURIComponent(path.slice(BELOW.length)) : null;
    const file = name === null ? null : normalize(join(folder, name || "index.html"));
    if (file === null || !file.startsWith(folder + sep)) {
      response.writeHead(404).end();
      return;
    }
    try {
      const body = await readFile(file);
      const type = TYPES[/** @type {keyof typeof TYPES} */ (extname(file))];
      response.writeHead(200, { "content-type": type ?? "application/octet-stream" }).end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", () => resolve(undefined)));
  const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
  const origin = `http://127.0.0.1:${port}`;
  return {
    origin,
    address: origin + BELOW,
    close: () =>
      new Promise((resolve) => {
        server.closeAllConnections();
        server.close(() => resolve());
      }),
  };
}
