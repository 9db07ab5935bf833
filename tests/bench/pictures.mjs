/**
 * Times the pictures in the page's own worker: the same patch, opening and fog in twelve megapixels as native, the least of nine. Prints
 * `name milliseconds`. Not here: signals (`worker.mjs`), the table, which `cargo xtask bench` makes.
 */

import { createRequire } from "node:module";
import { reachable } from "../browser/modules.mjs";

const { chromium } = createRequire(new URL("../browser/package.json", import.meta.url))("playwright-core");
const site = process.env.LAMPBLACK_URL;
const browser = await chromium.launch({ executablePath: process.env.LAMPBLACK_CHROMIUM, args: ["--no-sandbox", "--disable-gpu"] });
const page = await browser.newPage();
await reachable(page, site);
await page.goto(site);

const pictures = await page.evaluate(async (site) => {
  const { bench } = await import(new URL("bench/client.js", site).href);
  const asking = await bench();
  // The pictures that the native run makes, strip by strip as the page hands them over.
  const [width, height, rows] = [4000, 3000, 600];
  const made = (codeAt) => {
    const strips = [];
    for (let top = 0; top < height; top += rows) {
      const rgba = new Uint8ClampedArray(width * rows * 4).fill(255);
      for (let y = 0; y < rows; y += 1) {
        for (let x = 0; x < width; x += 1) {
          const at = (y * width + x) * 4;
          rgba[at] = rgba[at + 1] = rgba[at + 2] = Math.trunc(codeAt(x, top + y));
        }
      }
      strips.push({ top, rgba });
    }
    return strips;
  };
  // An opening with seven straight blades.
  const normals = Array.from({ length: 7 }, (_, blade) => (blade * 2 * Math.PI) / 7).map((angle) => [Math.cos(angle), Math.sin(angle)]);
  const blades = made((x, y) => {
    let off = -Infinity;
    for (const [cos, sin] of normals) {
      off = Math.max(off, cos * (x - width / 2) + sin * (y - height / 2));
    }
    return 12 + 138 * Math.min(Math.max(650 - off + 0.5, 0), 1);
  });
  // A strip of film with light past its left side.
  const [scale, left, upper] = [80, 560, 100];
  const film = made((x, y) => {
    const [u, v] = [(x - left) / scale, (y - upper) / scale];
    const edge = Math.min(v, 35 - v);
    const bare = v < 0 || v > 35 || ((u + 475) % 4.75 < 1.98 && edge >= 2.01 && edge < 4.8);
    const light = 0.6 * 10 ** (bare ? 0 : -0.28 - 0.7 * Math.exp(-Math.max(u + 2, 0) / 6));
    return 255 * (1.055 * Math.max(light, 0.0032) ** (1 / 2.4) - 0.055);
  });
  const averaged = async (strips, factor) => {
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
    return { light, width: columns, height: light.length / columns };
  };
  const patch = async (strips) => {
    let sums = { patch: { x: 0, y: 0, width, height }, light: [], counts: [], clipped: 0, black: 0 };
    for (const { top, rgba } of strips) {
      sums = await asking.photoStrip(sums, rgba, width, 0, top);
    }
  };
  const { inspection } = await asking.newInspection("rangefinder");
  const openings = async (strips) => {
    const picture = await averaged(strips, await asking.pictureFactor(width, height));
    const { opening } = await asking.findOpening(picture, { x: picture.width / 2, y: picture.height / 2 }, "", []);
    // The same picture twice would count once: what is left of the area at each mark.
    const marks = [["4", 1], ["5.6", 0.5], ["8", 0.25]];
    const shots = marks.map(([mark, part]) => ({ ...opening, f_number: mark, area_px: part * opening.area_px }));
    await asking.accept({ ...inspection, aperture: { ...inspection.aperture, openings: shots } });
  };
  const corners = [[0, 5.5], [36, 5.5], [36, 29.5], [0, 29.5]].flatMap(([x, y]) => [left + x * scale, upper + y * scale]);
  const fog = async (strips) => {
    const factor = await asking.filmFactor(new Float64Array(corners));
    const picture = await averaged(strips, factor);
    const { frame } = await asking.readBlank(picture, new Float64Array(corners.map((value) => value / factor)), "135", false);
    if (frame.group !== "back") {
      throw new Error(`the strip was made with light from the back, and "${frame.group}" was read`);
    }
  };
  const timed = async (work, strips) => {
    const times = [];
    for (let i = 0; i < 10; i += 1) {
      // Pixels are moved to the worker, as the page moves those that it has just read: every run has its own.
      const fresh = strips.map(({ top, rgba }) => ({ top, rgba: rgba.slice() }));
      const begun = performance.now();
      await work(fresh);
      times.push(performance.now() - begun);
    }
    // The first one warms up.
    return Math.min(...times.slice(1));
  };
  return { patch: await timed(patch, blades), openings: await timed(openings, blades), fog: await timed(fog, film) };
}, site);
console.log(`patch ${pictures.patch}\nopenings ${pictures.openings}\nfog ${pictures.fog}`);
await browser.close();
