/**
 * A phone-sized Chromium for the browser tests: a fresh context per test, which fails on any error of the page and on any
 * request that leaves its origin. Every page comes straight from the server, without a kept program before it, unless a test is about
 * that. `LAMPBLACK_URL` says where the site is served, `LAMPBLACK_CHROMIUM` which browser to take.
 * Not here: the tests; the server, which `cargo xtask test` starts.
 */

import { after, before, test } from "node:test";
import { chromium } from "playwright-core";
import { reachable } from "./modules.mjs";

const PHONE = { width: 360, height: 800 };
const FLAGS = [
  "--no-sandbox",
  "--disable-gpu",
  "--disable-quic",
  "--no-first-run",
  "--disable-background-networking",
  "--disable-component-update",
  "--disable-sync",
];

/** Where the site is. */
export const SITE = process.env.LAMPBLACK_URL ?? "http://localhost:8787/";

/** @param {string[]} [more] Flags besides the usual ones. */
const launch = (more = []) => chromium.launch({ executablePath: process.env.LAMPBLACK_CHROMIUM ?? "/usr/bin/chromium", args: [...FLAGS, ...more] });

/** @type {import("playwright-core").Browser} */
let browser;
before(async () => {
  browser = await launch();
  // A browser that was just started, on a machine that was just building, may take long over its first page; no test is about
  // that.
  const first = await browser.newPage();
  await first.goto(SITE, { timeout: 110_000 });
  await first.close();
}, { timeout: 120_000 });
after(() => browser?.close());

/**
 * @typedef {object} Phone
 * @property {import("playwright-core").BrowserContext} context
 * @property {import("playwright-core").Page} page Not opened yet.
 * @property {(path?: string) => Promise<import("playwright-core").Page>} open Opens a page of the site in another tab.
 * @property {string[]} faults What went wrong so far.
 * @property {(at: string) => unknown} home Where the site is too, for a test with a host of its own.
 *
 * @typedef {object} Wanted
 * @property {import("playwright-core").BrowserContextOptions} [context] Such as `viewport` or `colorScheme`.
 * @property {RegExp[]} [expected] Messages of the console that this test provokes.
 * @property {() => string[]} [flags] For a browser of its own, such as one with a microphone that plays a file.
 * @property {number} [timeout] In milliseconds.
 * @property {string | false} [skip] Why it is left out.
 */

/**
 * A test on a fresh phone.
 *
 * @param {string} name
 * @param {(phone: Phone) => Promise<void>} body
 * @param {Wanted} [wanted]
 */
export function onPhone(name, body, wanted = {}) {
  test(name, { timeout: wanted.timeout ?? 120_000, skip: wanted.skip ?? false }, async () => {
    const own = wanted.flags ? await launch(wanted.flags()) : null;
    const context = await (own ?? browser).newContext({ viewport: PHONE, hasTouch: true, locale: "en-GB", serviceWorkers: "block", ...wanted.context });
    const origins = new Set([new URL(SITE).origin]);
    const faults = watch(context, wanted.expected ?? [], origins);
    try {
      // Modules of the page by their address from its top, for tests that look below the surface.
      await reachable(context, SITE);
      await context.addInitScript((site) => {
        globalThis.load = (/** @type {string} */ path) => import(new URL(path, site).href);
      }, SITE);
      const page = await context.newPage();
      const open = async (path = "") => {
        const tab = await context.newPage();
        await tab.goto(new URL(path, SITE).href);
        return tab;
      };
      await body({ context, page, open, faults, home: (at) => origins.add(new URL(at).origin) });
      if (faults.length > 0) {
        throw new Error(`the page had ${faults.length} fault(s):\n${faults.join("\n")}`);
      }
    } finally {
      await context.close();
      await own?.close();
    }
  });
}

/**
 * @param {import("playwright-core").BrowserContext} context
 * @param {RegExp[]} expected
 * @param {Set<string>} origins Where the site is.
 */
function watch(context, expected, origins) {
  /** @type {string[]} */
  const faults = [];
  const leaves = (/** @type {URL} */ url) => /^(https?|wss?):$/.test(url.protocol) && !origins.has(url.origin);
  const fault = (/** @type {string} */ text) => {
    if (!expected.some((pattern) => pattern.test(text))) {
      faults.push(text);
    }
  };
  context.on("request", (request) => leaves(new URL(request.url())) && faults.push(`a request left: ${request.url()}`));
  context.route(leaves, (route) => route.abort());
  context.on("weberror", (error) => fault(`uncaught: ${error.error().stack ?? error.error().message}`));
  context.on("console", (message) => {
    if (message.type() === "error") {
      fault(`console: ${message.text()} (${message.location().url})`);
    }
  });
  return faults;
}

/**
 * A page of the site as text for `page.goto`.
 *
 * @param {string} [path]
 */
export const address = (path = "") => new URL(path, SITE).href;
