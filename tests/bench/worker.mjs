/**
 * Times the signals in the page's own worker: the same 60 s of sound, light and frames as native, the least of nine, and of frames,
 * which take a millisecond, of ninety-nine times ten, since the browser's clock goes by tenths of one. Prints `name milliseconds` for
 * the worker's own time and `asked-name milliseconds` for what passes between the page's question and its answer.
 * Not here: pictures (`pictures.mjs`); the signals and the table, which `cargo xtask bench` makes.
 */

import { readFileSync } from "node:fs";
import { createRequire } from "node:module";
import { reachable } from "../browser/modules.mjs";

const { chromium } = createRequire(new URL("../browser/package.json", import.meta.url))("playwright-core");
const folder = process.argv[2];
const site = process.env.LAMPBLACK_URL;
const browser = await chromium.launch({ executablePath: process.env.LAMPBLACK_CHROMIUM, args: ["--no-sandbox", "--disable-gpu"] });
const page = await browser.newPage();
await reachable(page, site);
await page.goto(site);

/** What is known of a take before it is measured. */
const about = (signal, build, asked) => ({ started: "", signal, source: "", capture: [], build, mirror: false, asked, duty: "", capture_rate: "", tone_steps: [] });

/** In the page: asks for a recording or for frames, and waits. */
const asked = async ({ base64, rows, known, runs, site }) => {
  const { bench } = await import(new URL("bench/client.js", site).href);
  const asking = await bench();
  const bytes = base64 && Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0));
  const times = [];
  for (let i = 0; i <= runs; i += 1) {
    const own = bytes ? bytes.slice() : { rows, clock_step_s: 0 };
    const begun = performance.now();
    await (bytes ? asking.measureWav(own, known) : asking.measureFrames(own, known));
    times.push(performance.now() - begun);
  }
  // The first one warms up.
  return Math.min(...times.slice(1));
};

/** In the worker, which has its module by then: the same without the way there and back. */
const answered = async ({ base64, rows, known, runs, together = 1, site }) => {
  const bridge = await import(new URL("bench/lampblack-signals.js", site).href);
  const input = base64 ? Uint8Array.from(atob(base64), (letter) => letter.charCodeAt(0)) : new Float64Array(rows);
  const times = [];
  for (let i = 0; i <= runs; i += 1) {
    const begun = performance.now();
    for (let k = 0; k < together; k += 1) {
      if (base64) {
        bridge.measure_wav(input, known);
      } else {
        bridge.measure_frames(input, 0, known);
      }
    }
    times.push((performance.now() - begun) / together);
  }
  return Math.min(...times.slice(1));
};

/** @param {string} name @param {object} what */
async function timed(name, what) {
  console.log(`asked-${name} ${await page.evaluate(asked, { ...what, site })}`);
  const worker = page.workers().at(-1);
  console.log(`${name} ${await worker.evaluate(answered, { ...what, site })}`);
}

// Signals and what was asked for, as the native run wrote them down.
for (const { name, file, signal, asked: marks } of JSON.parse(readFileSync(`${folder}/asked.json`, "utf8"))) {
  await timed(name, { base64: readFileSync(`${folder}/${file}`).toString("base64"), known: about(signal, "cloth", marks), runs: 9 });
}
// 60 s of a clip at 240 frames a second with a shot each second, as the native one is.
const rows = [];
for (let frame = 0; frame < 60 * 240; frame += 1) {
  const now = frame / 240;
  const light = 0.01 + (now % 1 < 0.25 ? 0.6 : 0);
  rows.push(now, light, light, light, 0);
}
await timed("frames", { rows, known: about("video", "", []), runs: 99, together: 10 });
await browser.close();
