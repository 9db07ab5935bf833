/**
 * A static host for one test: the built site under any path, some of its files replaced, and what was asked for written down. It
 * knows nothing of the site, as the hosts that a site is put on know nothing, but where a test finds single modules.
 * Not here: the server that all other tests use, which is `cargo xtask serve`'s.
 */

import { createHash } from "node:crypto";
import { readFile } from "node:fs/promises";
import { createServer } from "node:http";
import { extname, join } from "node:path";
import { fileURLToPath } from "node:url";
import { moduleAt } from "./modules.mjs";

const SITE = process.env.LAMPBLACK_SITE ?? fileURLToPath(new URL("../../target/site", import.meta.url));
const TYPES = { ".html": "text/html", ".js": "text/javascript", ".css": "text/css", ".json": "application/json", ".svg": "image/svg+xml", ".png": "image/png", ".wasm": "application/wasm", ".webmanifest": "application/manifest+json" };

/**
 * @typedef {object} Host
 * @property {string} address Of the site's top.
 * @property {Map<string, string>} replaced Files by their path with another text.
 * @property {string[]} asked Paths below the top, in order.
 * @property {() => Promise<unknown>} close
 */

/** @param {string} [under] The path that the site stands under, with a slash at both ends. @returns {Promise<Host>} */
export async function host(under = "/") {
  /** @type {Map<string, string>} */
  const replaced = new Map();
  /** @type {string[]} */
  const asked = [];
  const server = createServer(async (request, response) => {
    const { pathname } = new URL(request.url ?? "/", "http://localhost");
    const path = pathname.startsWith(under) ? pathname.slice(under.length) || "index.html" : null;
    if (path === null || path.includes("..")) {
      response.writeHead(404).end();
      return;
    }
    asked.push(path);
    try {
      const body = replaced.get(path) ?? (await readFile(moduleAt(path) ?? join(SITE, path)));
      // Hosts let browsers keep files for a while, which a new version must not fall for.
      response.writeHead(200, { "content-type": TYPES[/** @type {keyof typeof TYPES} */ (extname(path))] ?? "application/octet-stream", "cache-control": "max-age=600" }).end(body);
    } catch {
      response.writeHead(404).end();
    }
  });
  await new Promise((resolve) => server.listen(0, "127.0.0.1", () => resolve(undefined)));
  const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
  return {
    address: `http://localhost:${port}${under}`, replaced, asked,
    close: () => new Promise((resolve) => { server.closeAllConnections(); server.close(resolve); }),
  };
}

/** @param {string} path @returns {Promise<string>} A file of the built site. */
export const built = (path) => readFile(join(SITE, path), "utf8");

/**
 * Puts a new version on a host: one file changed, and the service worker told so as the build tells it.
 *
 * @param {Host} on
 * @param {string} path
 * @param {(text: string) => string} change
 */
export async function release(on, path, change) {
  const text = change(on.replaced.get(path) ?? (await built(path)));
  const hash = createHash("sha256").update(text).digest("base64");
  const worker = (on.replaced.get("sw.js") ?? (await built("sw.js")))
    .replace(new RegExp(`"${path.replaceAll(".", "\\.")}": "[^"]+"`), `"${path}": "${hash}"`)
    .replace(/hash: "[^"]+"/, `hash: "${createHash("sha256").update(text + Math.random()).digest("hex")}"`);
  on.replaced.set(path, text);
  on.replaced.set("sw.js", worker);
}
