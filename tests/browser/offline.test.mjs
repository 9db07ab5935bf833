/**
 * The program kept on the phone: every page without a connection after the first visit, under any path; a new version that waits
 * until somebody wants it and nothing runs, with two tabs open; the reset, which leaves the cameras alone; what installing asks for.
 * Not here: what the pages do (the other tests, which come straight from the server).
 */

import assert from "node:assert/strict";
import { readdirSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { built, host, release } from "./host.mjs";
import { onPhone } from "./support.mjs";

const PAGES = readdirSync(fileURLToPath(new URL("../../www/", import.meta.url))).filter((name) => name.endsWith(".html"));
const ALLOWED = { context: { serviceWorkers: /** @type {const} */ ("allow") }, timeout: 240_000 };

/** @param {import("playwright-core").Page} page Until the program is kept and answers this page. */
const kept = (page) => page.evaluate(async () => {
  await navigator.serviceWorker.ready;
  while (!navigator.serviceWorker.controller) {
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
});

/** @param {import("playwright-core").Page} page */
const cameras = (page) => page.evaluate(async () => (await (await import(new URL("store/inspections.js", document.baseURI).href)).list()).length);

/** @param {import("playwright-core").Page} page Loads the demo and gives the query of one of its cameras. */
async function demo(page) {
  await page.getByRole("button", { name: "Load the demo bench" }).click();
  await page.locator(".camera").nth(3).waitFor();
  return new URL((await page.locator(".camera a", { hasText: "Corvane" }).first().getAttribute("href")) ?? "", page.url()).search;
}

/** @param {import("playwright-core").Page} page A new version is looked for and is there. */
const waits = (page) => page.evaluate(async () => {
  const registration = await navigator.serviceWorker.getRegistration();
  await registration?.update();
  while (!registration?.waiting) {
    await new Promise((resolve) => setTimeout(resolve, 20));
  }
});

const mark = (/** @type {string} */ words) => (/** @type {string} */ text) => text.replace(/<title>[^<]*/, `<title>${words}`).replace("<body>", `<body data-version="${words}">`);
const version = (/** @type {import("playwright-core").Page} */ page) => page.locator("body").getAttribute("data-version");

onPhone("after the first visit every page opens without a connection, under a path of its own", async ({ page, context, home }) => {
  const at = await host("/x/y/");
  home(at.address);
  try {
    // Any page may be the first.
    await page.goto(`${at.address}more.html`);
    await kept(page);
    await context.setOffline(true);
    at.asked.length = 0;
    await page.goto(at.address);
    const query = await demo(page);
    const faults = [];
    for (const name of PAGES) {
      await page.goto(`${at.address}${name}${query}`);
      await page.waitForFunction(() => document.querySelector("main")?.children.length && !document.querySelector("main [role=status]")?.textContent?.includes("One moment"));
      const said = await page.locator("main .refusal:not([hidden])").allInnerTexts();
      faults.push(...said.map((text) => `${name}: ${text}`));
      if ((await page.locator("main").innerText()).trim().length < 40) {
        faults.push(`${name}: shows nothing`);
      }
    }
    assert.deepEqual(faults, []);
    assert.equal(PAGES.length > 25, true);
    // As a host reads an address without the ending, and the top without its slash-less name.
    await page.goto(`${at.address}more?x=1`);
    await page.getByText("every page opens without a connection").waitFor();
    // The browser itself looks for a new version, connection or none.
    assert.deepEqual(at.asked.filter((path) => path !== "sw.js"), [], "the host was asked for nothing");
    assert.deepEqual(await page.evaluate(() => caches.keys().then((names) => names.map((name) => name.replace(/[0-9a-f]{64}/, "HASH")))), ["lampblack /x/y/ HASH"]);
  } finally {
    await context.setOffline(false);
    await at.close();
  }
}, ALLOWED);

onPhone("a new version waits, is refused while something runs, and then takes over in both tabs", async ({ page, context, home }) => {
  const at = await host("/bench/");
  home(at.address);
  try {
    await page.goto(at.address);
    await kept(page);
    const query = await demo(page);
    const before = await cameras(page);
    await release(at, "index.html", mark("two"));
    await release(at, "more.html", mark("two"));
    const other = await context.newPage();
    await other.goto(`${at.address}more.html`);
    at.asked.length = 0;
    await waits(other);
    // Only what changed is fetched anew, besides the service worker itself and its one script, which the browser looks at.
    assert.deepEqual([...new Set(at.asked)].sort(), ["bench/simd.js", "index.html", "more.html", "sw.js"]);
    // Both tabs go on with the version that they came with, over every page.
    await page.goto(`${at.address}meter.html${query}`);
    await page.goto(at.address);
    await other.reload();
    assert.deepEqual([await version(page), await version(other)], [null, null]);
    await page.getByRole("button", { name: "Use the new version" }).waitFor();
    // While something runs in the other tab, no.
    const over = await other.evaluateHandle(async () => (await import(new URL("offline/busy.js", document.baseURI).href)).busy());
    await other.evaluate(async () => {
      while ((await navigator.locks.query()).held?.every((one) => one.name !== "lampblack.busy")) {
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
    });
    await page.getByRole("button", { name: "Use the new version" }).click();
    await page.getByText("Something is being measured").waitFor();
    assert.equal(await version(page), null);
    await other.evaluate((end) => end(), over);
    await other.evaluate(async () => {
      while ((await navigator.locks.query()).held?.some((one) => one.name === "lampblack.busy")) {
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
    });
    await page.getByRole("button", { name: "Use the new version" }).click();
    for (const tab of [page, other]) {
      await tab.waitForFunction(() => document.body.dataset.version === "two");
    }
    await page.locator(".camera").nth(3).waitFor();
    assert.equal(await page.getByRole("button", { name: "Use the new version" }).count(), 0);
    assert.equal(await cameras(page), before);
    assert.equal((await page.evaluate(() => caches.keys())).length, 1, "the version before is given back");
  } finally {
    await at.close();
  }
}, ALLOWED);

onPhone("half a release is not kept, and the rest comes when it is whole", async ({ page, home }) => {
  const at = await host();
  home(at.address);
  try {
    await page.goto(at.address);
    await kept(page);
    const [whole, worker] = [await built("view/theme.js"), await built("sw.js")];
    await release(at, "view/theme.js", (text) => `${text}\n`);
    const next = at.replaced.get("view/theme.js") ?? "";
    at.replaced.set("view/theme.js", whole);
    assert.notEqual(at.replaced.get("sw.js"), worker);
    const ended = await page.evaluate(async () => {
      const registration = await navigator.serviceWorker.getRegistration();
      const found = new Promise((resolve) => registration?.addEventListener("updatefound", () => resolve(registration.installing), { once: true }));
      registration?.update().catch(() => {});
      const installing = /** @type {ServiceWorker} */ (await found);
      while (installing.state === "installing") {
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
      return [installing.state, registration?.waiting ?? null];
    });
    assert.deepEqual(ended, ["redundant", null]);
    at.replaced.set("view/theme.js", next);
    await waits(page);
  } finally {
    await at.close();
  }
}, { ...ALLOWED, expected: [/integrity|digest/i] });

onPhone("the reset fetches the program anew and leaves the cameras, and does nothing without a connection", async ({ page, context, home }) => {
  const at = await host("/a/");
  home(at.address);
  try {
    await page.goto(at.address);
    await kept(page);
    await demo(page);
    const before = await cameras(page);
    await page.evaluate(() => caches.open("another program's"));
    await page.goto(`${at.address}more.html`);
    await page.getByRole("link", { name: "Reset the program, keep my cameras" }).click();
    await context.setOffline(true);
    await page.getByRole("button", { name: "Reset, keep my cameras" }).click();
    await page.getByText("Nothing was changed").waitFor();
    assert.equal((await page.evaluate(() => caches.keys())).length, 2);
    await context.setOffline(false);
    at.asked.length = 0;
    await page.getByRole("button", { name: "Reset, keep my cameras" }).click();
    await page.locator(".camera").nth(3).waitFor();
    assert.equal(at.asked.includes("index.html"), true, "it came from the host");
    assert.equal(await cameras(page), before);
    await kept(page);
    assert.deepEqual((await page.evaluate(() => caches.keys())).length, 2, "what another program keeps is not ours");
  } finally {
    await at.close();
  }
}, { ...ALLOWED, expected: [/ERR_INTERNET_DISCONNECTED/] });

onPhone("what a browser asks of a program before it installs it is there", async ({ page, home }) => {
  const at = await host("/x/");
  home(at.address);
  try {
    await page.goto(at.address);
    await kept(page);
    const client = await page.context().newCDPSession(page);
    const { url, errors } = await client.send("Page.getAppManifest");
    assert.deepEqual([url, errors], [`${at.address}lampblack.webmanifest`, []]);
    // A test's browser keeps nothing after it, as a private window does, which is the one thing that it may hold against it.
    const { installabilityErrors } = await client.send("Page.getInstallabilityErrors");
    assert.deepEqual(installabilityErrors.filter(({ errorId }) => errorId !== "in-incognito"), []);
    const seen = await page.evaluate(async () => {
      const address = document.querySelector("link[rel=manifest]")?.getAttribute("href") ?? "";
      const manifest = await (await fetch(address)).json();
      const sides = [];
      for (const icon of [...manifest.icons, { src: document.querySelector("link[rel=apple-touch-icon]")?.getAttribute("href"), sizes: "180x180", type: "image/png" }]) {
        const answer = await fetch(icon.src);
        const picture = icon.type === "image/png" ? await createImageBitmap(await answer.blob()) : null;
        sides.push([answer.headers.get("content-type"), picture ? `${picture.width}x${picture.height}` : icon.sizes, icon.type, icon.sizes]);
      }
      return { manifest, sides };
    });
    for (const [type, side, saidType, saidSide] of seen.sides) {
      assert.deepEqual([type, side], [saidType, saidSide]);
    }
    assert.equal(seen.sides.length, 6);
    assert.deepEqual([seen.manifest.name, seen.manifest.display, seen.manifest.start_url, seen.manifest.scope], ["Lampblack", "standalone", "index.html", "./"]);
  } finally {
    await at.close();
  }
}, ALLOWED);

onPhone("a browser that cannot count several numbers at a time takes, and keeps, the modules that do without", async ({ page, home }) => {
  const at = await host("/x/");
  home(at.address);
  try {
    await release(at, "bench/simd.js", () => "globalThis.lampblackWide = false;");
    await page.goto(`${at.address}more.html`);
    await kept(page);
    const cities = await page.evaluate(async () => (await (await (await import(new URL("bench/client.js", document.baseURI).href)).bench()).cities()).length);
    assert.ok(cities > 20, `${cities} cities`);
    const here = await page.evaluate(async () => {
      const [name] = await caches.keys();
      return (await (await caches.open(name)).keys()).map(({ url }) => url).filter((url) => /bench\/lampblack-/.test(url)).map((url) => url.replace(/.*lampblack-/, "")).sort();
    });
    const both = (/** @type {string} */ name) => [`${name}.js`, `${name}_bg.wasm`];
    assert.deepEqual(here, ["bench", "paper", "pictures-plain", "signals-plain"].flatMap(both).sort());
    assert.deepEqual(at.asked.filter((path) => /lampblack-(pictures|signals)(_bg|\.js)/.test(path)), []);
  } finally {
    await at.close();
  }
}, ALLOWED);
