/**
 * How quickly each page shows on a slow phone, by Lighthouse's own simulation of one: the median of three first visits, with the demo
 * bench on the phone and no program kept. Prints a table; ends in failure where a page is worse than what is wanted.
 * `LAMPBLACK_RUNS` says how many visits, arguments which pages; without one, all. Not here: building and the certificate, which
 * `cargo xtask lighthouse` sees to. No test.
 */

import { mkdtempSync, readdirSync, rmSync } from "node:fs";
import { createServer } from "node:net";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import lighthouse from "lighthouse";
import { chromium } from "playwright-core";
import { swift } from "./swift.mjs";

const { LAMPBLACK_SITE: site = "", LAMPBLACK_PACKED: packed = "", LAMPBLACK_CERTIFICATE: cert = "", LAMPBLACK_KEY: key = "" } = process.env;
const RUNS = Number(process.env.LAMPBLACK_RUNS ?? 3);
const PAGES = process.argv.length > 2 ? process.argv.slice(2) : readdirSync(fileURLToPath(new URL("../../www/", import.meta.url))).filter((name) => name.endsWith(".html"));
const CATEGORIES = ["performance", "accessibility", "best-practices"];
/** What is wanted of every page. */
const WANTED = { score: 100, lcp_s: 1.0, tbt_ms: 50, cls: 0.01 };

/** @returns {Promise<number>} A port that is free. */
const free = () => new Promise((resolve) => {
  const server = createServer().listen(0, () => {
    const { port } = /** @type {import("node:net").AddressInfo} */ (server.address());
    server.close(() => resolve(port));
  });
});

const host = await swift({ site, packed, cert, key });
const SITE = host.address;
const port = await free();
const profile = mkdtempSync(join(tmpdir(), "lampblack-lighthouse-"));
const browser = await chromium.launchPersistentContext(profile, {
  executablePath: process.env.LAMPBLACK_CHROMIUM ?? "/usr/bin/chromium",
  args: ["--no-sandbox", "--disable-gpu", "--ignore-certificate-errors", "--no-first-run", "--disable-background-networking", "--disable-component-update", `--remote-debugging-port=${port}`],
});

/** @param {import("playwright-core").Page} page The kept program goes, the cameras stay. */
async function asNew(page) {
  const client = await page.context().newCDPSession(page);
  await client.send("Storage.clearDataForOrigin", { origin: new URL(SITE).origin, storageTypes: "service_workers,cache_storage" });
  await client.send("Network.clearBrowserCache");
  await client.detach();
}

/** @param {string} address @returns {Promise<any>} */
async function visit(address) {
  const run = await lighthouse(address, { port, output: "json", onlyCategories: CATEGORIES, disableStorageReset: true, logLevel: "error" });
  const report = /** @type {any} */ (run?.lhr);
  const audit = (/** @type {string} */ name) => report.audits[name];
  const short = CATEGORIES.flatMap((name) => report.categories[name].auditRefs
    .filter((/** @type {any} */ ref) => ref.weight > 0 && audit(ref.id).score !== null && audit(ref.id).score < 1)
    .map((/** @type {any} */ ref) => `${ref.id} ${audit(ref.id).displayValue ?? ""}`.trim()));
  return {
    scores: CATEGORIES.map((name) => Math.round((report.categories[name].score ?? 0) * 100)),
    fcp_s: audit("first-contentful-paint").numericValue / 1000, lcp_s: audit("largest-contentful-paint").numericValue / 1000,
    tbt_ms: audit("total-blocking-time").numericValue, cls: audit("cumulative-layout-shift").numericValue, short,
    what: audit("largest-contentful-paint-element")?.details?.items?.[0]?.items?.[0]?.node?.snippet ?? "",
  };
}

let bad = 0;
try {
  const page = await browser.newPage();
  await page.goto(SITE);
  await page.getByRole("button", { name: "Load the demo bench" }).click();
  await page.locator(".camera").nth(3).waitFor();
  const { search } = new URL((await page.locator(".camera a", { hasText: "Corvane" }).first().getAttribute("href")) ?? "", page.url());
  await page.goto("about:blank");
  console.log(`page            performance accessibility practices   FCP s   LCP s  TBT ms    CLS`);
  for (const name of PAGES) {
    const runs = [];
    for (let i = 0; i < RUNS; i += 1) {
      await asNew(page);
      runs.push(await visit(new URL(name + (name === "index.html" ? "" : search), SITE).href));
    }
    // Of each figure the middle one: what holds one visit up differs from figure to figure.
    const middle = (/** @type {(run: any) => number} */ of) => runs.map(of).sort((a, b) => a - b)[Math.floor(runs.length / 2)] ?? 0;
    const scores = CATEGORIES.map((_, i) => middle((run) => run.scores[i]));
    const [fcp_s, lcp_s, tbt_ms, cls] = [middle((run) => run.fcp_s), middle((run) => run.lcp_s), middle((run) => run.tbt_ms), middle((run) => run.cls)];
    const { short, what } = runs.find((run) => run.lcp_s === lcp_s) ?? runs[0];
    const good = scores.every((/** @type {number} */ score) => score >= WANTED.score) && lcp_s <= WANTED.lcp_s && tbt_ms <= WANTED.tbt_ms && cls <= WANTED.cls;
    bad += good ? 0 : 1;
    console.log(`${name.padEnd(18)}${scores.map((/** @type {number} */ score) => String(score).padStart(9)).join("   ")}${fcp_s.toFixed(2).padStart(9)}${lcp_s.toFixed(2).padStart(8)}${tbt_ms.toFixed(0).padStart(8)}${cls.toFixed(3).padStart(7)}${good ? "" : `  ${short.join("; ")} ${what}`}`);
  }
} finally {
  await browser.close();
  host.close();
  rmSync(profile, { recursive: true, force: true });
}
if (bad > 0) {
  console.log(`${bad} of ${PAGES.length} pages are worse than wanted: 100 in all three, LCP ${WANTED.lcp_s} s, TBT ${WANTED.tbt_ms} ms, CLS ${WANTED.cls}`);
  process.exitCode = 1;
}
