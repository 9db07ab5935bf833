/**
 * Times the measurements in the page's own worker: the same signals of 60 s as native, median of five. Prints `name milliseconds`.
 * Not here: the signals and the table, which `cargo xtask bench` makes.
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
for (const { name, signal, asked } of JSON.parse(readFileSync(`${folder}/asked.json`, "utf8"))) {
  const base64 = readFileSync(`${folder}/${name}.wav`).toString("base64");
  const milliseconds = await page.evaluate(async ({ base64, signal, asked, site }) => {
    const { bench } = await import(new URL("bench/client.js", site).href);
    const asking = await bench();
    const text = atob(base64);
    const bytes = Uint8Array.from(text, (letter) => letter.charCodeAt(0));
    const about = { started: "", signal, source: "", capture: [], build: "cloth", mirror: false, asked, duty: "", capture_rate: "", tone_steps: [] };
    const times = [];
    for (let i = 0; i < 6; i += 1) {
      const own = bytes.slice();
      const begun = performance.now();
      await asking.measureWav(own, about);
      times.push(performance.now() - begun);
    }
    // The first one warms up.
    return times.slice(1).sort((a, b) => a - b)[2];
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
  for (let i = 0; i < 6; i += 1) {
    const begun = performance.now();
    await asking.measureFrames(table, about);
    times.push(performance.now() - begun);
  }
  return times.slice(1).sort((a, b) => a - b)[2];
}, site);
console.log(`frames ${frames}`);
const pictures = await page.evaluate(async (site) => {
  const { bench } = await import(new URL("bench/client.js", site).href);
  const asking = await bench();
  // The picture that the native run makes, strip by strip as the page hands it over.
  const [width, height, rows] = [4000, 3000, 600];
  const strips = [];
  for (let top = 0; top < height; top += rows) {
    const rgba = new Uint8ClampedArray(width * rows * 4).fill(255);
    for (let y = 0; y < rows; y += 1) {
      for (let x = 0; x < width; x += 1) {
        const inside = Math.min(Math.max(700 - Math.sqrt((x - 2000) ** 2 + (top + y - 1500) ** 2) + 0.5, 0), 1);
        const at = (y * width + x) * 4;
        rgba[at] = rgba[at + 1] = rgba[at + 2] = Math.trunc(12 + 138 * inside);
      }
    }
    strips.push({ top, rgba });
  }
  // Pixels are moved to the worker, as the page moves those that it has just read: every run has its own.
  const fresh = () => strips.map(({ top, rgba }) => ({ top, rgba: rgba.slice() }));
  const patch = async (strips) => {
    let sums = { patch: { x: 0, y: 0, width, height }, light: [], counts: [], clipped: 0, black: 0 };
    for (const { top, rgba } of strips) {
      sums = await asking.photoStrip(sums, rgba, width, 0, top);
    }
  };
  const opening = async (strips) => {
    const factor = await asking.pictureFactor(width, height);
    const parts = [];
    for (const { rgba } of strips) {
      parts.push(await asking.pictureStrip(rgba, width, rows, factor));
    }
    const light = new Float32Array(parts.reduce((sum, part) => sum + part.length, 0));
    let at = 0;
    for (const part of parts) {
      light.set(part, at);
      at += part.length;
    }
    const columns = Math.floor(width / factor);
    const found = { light, width: columns, height: light.length / columns };
    await asking.findOpening(found, { x: columns / 2, y: found.height / 2 }, "", []);
  };
  const timed = async (work) => {
    const times = [];
    for (let i = 0; i < 6; i += 1) {
      const strips = fresh();
      const begun = performance.now();
      await work(strips);
      times.push(performance.now() - begun);
    }
    return times.slice(1).sort((a, b) => a - b)[2];
  };
  return { patch: await timed(patch), openings: await timed(opening) };
}, site);
console.log(`patch ${pictures.patch}\nopenings ${pictures.openings}`);
await browser.close();
