/**
 * Times the signals in the page's own worker: the same 60 s of sound, light and frames as native, the least of nine. Prints `name milliseconds`.
 * Not here: pictures (`pictures.mjs`); the signals and the table, which `cargo xtask bench` makes.
 */

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";

const { chromium } = createRequire(new URL("../browser/package.json", import.meta.url))("playwright-core");
const folder = process.argv[2];
const site = process.env.LAMPBLACK_URL;
const browser = await chromium.launch({ executablePath: process.env.LAMPBLACK_CHROMIUM, args: ["--no-sandbox", "--disable-gpu"] });
const page = await browser.newPage();
await page.goto(site);

// Signals and what was asked for, as the native run wrote them down.
for (const { name, file, signal, asked } of JSON.parse(readFileSync(`${folder}/asked.json`, "utf8"))) {
  const base64 = readFileSync(`${folder}/${file}`).toString("base64");
  const milliseconds = await page.evaluate(async ({ base64, signal, asked, site }) => {
    const { bench } = await import(new URL("bench/client.js", site).href);
    const asking = await bench();
    const text = atob(base64);
    const bytes = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
    const about = { started: "", signal, source: "", capture: [], build: "cloth", mirror: false, asked, duty: "", capture_rate: "", tone_steps: [] };
    const times = [];
    for (let i = 0; i < 10; i += 1) {
      const own = bytes.slice();
      const begun = performance.now();
      await asking.measureWav(own, about);
      times.push(performance.now() - begun);
    }
    // The first one warms up.
    return Math.min(...times.slice(1));
  }, { base64, signal, asked, site });
  console.log(`${name} ${milliseconds}`);
}
const frames = await page.evaluate(async (site) => {
  const { bench } = await import(new URL("bench/client.js", site).href);
  const asking = await bench();
  // 60 s of a clip at 240 frames a second with a shot each second, as the native one is.
  const table = { rows: [], clock_step_s: 0 };
  for (let frame = 0; frame < 60 * 240; frame += 1) {
    const now = frame / 240;
    const light = 0.01 + (now % 1 < 0.25 ? 0.6 : 0);
    table.rows.push(now, light, light, light, 0);
  }
  const about = { started: "", signal: "video", source: "", capture: [], build: "", mirror: false, asked: [], duty: "", capture_rate: "", tone_steps: [] };
  const times = [];
  for (let i = 0; i < 10; i += 1) {
    const begun = performance.now();
    await asking.measureFrames(table, about);
    times.push(performance.now() - begun);
  }
  return Math.min(...times.slice(1));
}, site);
console.log(`frames ${frames}`);
await browser.close();
