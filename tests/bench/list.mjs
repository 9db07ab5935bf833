/**
 * The list of cameras with ten thousand of them: the longest task while it is opened, searched, sorted and scrolled. Prints
 * `what milliseconds` for each, the longest task over 50 ms or 0 (Long Tasks, a working draft of the W3C).
 * Not here: what the list shows (the browser tests); the table, which `cargo xtask bench` makes.
 */

import { createRequire } from "node:module";
import { reachable } from "../browser/modules.mjs";

const { chromium } = createRequire(new URL("../browser/package.json", import.meta.url))("playwright-core");
const site = process.env.LAMPBLACK_URL;
const CAMERAS = 10_000;
const browser = await chromium.launch({ executablePath: process.env.LAMPBLACK_CHROMIUM, args: ["--no-sandbox", "--disable-gpu"] });
const context = await browser.newContext({ viewport: { width: 360, height: 800 }, serviceWorkers: "block" });
await context.addInitScript(() => {
  globalThis.longest = 0;
  new PerformanceObserver((list) => {
    for (const entry of list.getEntries()) {
      globalThis.longest = Math.max(globalThis.longest, entry.duration);
    }
  }).observe({ type: "longtask", buffered: true });
});
const page = await context.newPage();
await reachable(page, site);
await page.goto(new URL("more.html", site).href);
await page.evaluate(async ({ site, count }) => {
  const load = (path) => import(new URL(path, site).href);
  const [{ bench }, { write }, { putRow }] = [await load("bench/client.js"), await load("store/database.js"), await load("store/rows.js")];
  const { inspection } = await (await bench()).newInspection("rangefinder");
  for (let from = 0; from < count; from += 500) {
    await write(async (writing) => {
      for (let i = from; i < from + 500; i += 1) {
        const key = `made-${String(i).padStart(5, "0")}`;
        const updated = new Date(Date.UTC(2026, 0, 1) + i * 60_000).toISOString();
        const camera = { ...inspection.camera, maker: i % 2 ? "Halden" : "Corvane", model: `Number ${i}`, serial: `S${i}` };
        await putRow(writing, { key, inspection: { ...inspection, id: key, camera, updated }, updated, removed: null, beside: null });
      }
    });
  }
}, { site, count: CAMERAS });

/** @param {string} name @param {() => Promise<unknown>} doing */
async function task(name, doing) {
  await page.evaluate(() => (globalThis.longest = 0));
  await doing();
  await page.waitForTimeout(600);
  console.log(`${name} ${await page.evaluate(() => globalThis.longest)}`);
}

// A measure that sees nothing would say the same as a list that is quick.
await page.evaluate(() => new Promise((done) => setTimeout(() => {
  const begun = performance.now();
  while (performance.now() - begun < 80) {
    // Busy on purpose.
  }
  setTimeout(done, 300);
})));
if (!((await page.evaluate(() => globalThis.longest)) >= 50)) {
  throw new Error("long tasks are not seen in this browser");
}
await page.goto(new URL("index.html", site).href);
await page.getByText(`${CAMERAS} cameras, the newest first`).waitFor();
await page.waitForTimeout(600);
console.log(`list-open ${await page.evaluate(() => globalThis.longest)}`);
await task("list-search", async () => {
  await page.getByLabel("Find a camera").pressSequentially("corvane s12", { delay: 60 });
  await page.getByText(/^\d+ cameras$/).waitFor();
});
await page.getByLabel("Find a camera").fill("");
await task("list-sort", () => page.getByLabel("Order").selectOption("name"));
await task("list-filter", () => page.getByLabel("Outcome").selectOption("not_yet_known"));
await task("list-scroll", async () => {
  for (let n = 0; n < 12; n += 1) {
    await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
    await page.waitForTimeout(120);
  }
});
await browser.close();
