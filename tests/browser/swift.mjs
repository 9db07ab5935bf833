/**
 * The built site as the hosts serve it that sites are put on: HTTP/2, TLS, compressed as it was when it was built.
 * Not here: the server for working and testing (`cargo xtask serve`); a host of a test's own (`host.mjs`).
 */

import { readFile } from "node:fs/promises";
import { createSecureServer } from "node:http2";
import { extname, join } from "node:path";

const TYPES = { ".html": "text/html; charset=utf-8", ".js": "text/javascript; charset=utf-8", ".css": "text/css; charset=utf-8", ".json": "application/json", ".svg": "image/svg+xml", ".png": "image/png", ".wasm": "application/wasm", ".webmanifest": "application/manifest+json" };

/**
 * @param {{ site: string, packed: string, cert: string, key: string }} what
 * @returns {Promise<{ address: string, close: () => void }>}
 */
export async function swift({ site, packed, cert, key }) {
  const server = createSecureServer({ cert, key });
  server.on("stream", async (stream, headers) => {
    const path = new URL(String(headers[":path"]), "https://localhost").pathname.slice(1) || "index.html";
    const type = TYPES[/** @type {keyof typeof TYPES} */ (extname(path))];
    try {
      if (!type || path.includes("..")) {
        throw new Error("no such file");
      }
      const small = await readFile(join(packed, `${path}.br`)).catch(() => null);
      const body = small ?? (await readFile(join(site, path)));
      if (stream.destroyed) {
        return;
      }
      stream.respond({ ":status": 200, "content-type": type, "cache-control": "no-cache", ...(small ? { "content-encoding": "br" } : {}) });
      stream.end(body);
    } catch {
      if (!stream.destroyed) {
        stream.respond({ ":status": 404 });
        stream.end();
      }
    }
  });
  server.on("stream", (stream) => stream.on("error", () => {}));
  // A browser that goes away ends its connection as it likes.
  server.on("sessionError", () => {});
  await new Promise((resolve) => server.listen(0, "127.0.0.1", () => resolve(undefined)));
  const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
  return { address: `https://localhost:${port}/`, close: () => server.close() };
}
