/**
 * The page's modules one by one, for tests that look below the surface: what went into a shared file is handed on from there, so that it
 * is the page's own, and what a page took in is as it was written.
 * Not here: the joined files themselves, which the site has.
 */

import { existsSync } from "node:fs";
import { join } from "node:path";

const { LAMPBLACK_SITE: site = "target/site", LAMPBLACK_TARGET: target = "target" } = process.env;

/** @param {string} path From the top of the site. @returns {string | undefined} The file that has the module, where the site has none. */
export function moduleAt(path) {
  if (!path.endsWith(".js") || path.includes("..") || existsSync(join(site, path))) {
    return undefined;
  }
  return ["joined", "apart"].map((folder) => join(target, folder, path)).find(existsSync);
}

/**
 * Lets a page of the site import its single modules by their address.
 *
 * @param {import("playwright-core").BrowserContext | import("playwright-core").Page} of
 * @param {string} address Of the site's top.
 */
export async function reachable(of, address) {
  const moduleOf = (/** @type {URL} */ { href }) => (href.startsWith(address) ? moduleAt(href.slice(address.length)) : undefined);
  await of.route((url) => moduleOf(url) !== undefined, (route) => route.fulfill({ path: moduleOf(new URL(route.request().url())) ?? "", contentType: "text/javascript" }));
}
