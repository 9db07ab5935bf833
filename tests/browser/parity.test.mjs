/**
 * The bench in the page and the bench in a shell give the same to the last bit: a few hundred inspections, every recording and
 * every table of frames.
 * Not here: which ones, and the shell's half, which the Rust test `parity` writes.
 */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { fileURLToPath } from "node:url";
import { test } from "node:test";

const TOP = fileURLToPath(new URL("../../", import.meta.url));
const SITE = process.env.LAMPBLACK_SITE ?? join(TOP, "target/site");
const WRITTEN = join(process.env.LAMPBLACK_TARGET ?? join(TOP, "target"), "parity");
const SIGNALS = join(TOP, "tests/signals/timing");
const [LEAST, LEAST_SIGNALS] = [300, 30];
const MODULES = ["bench", "paper", "signals", "pictures"];
/** What comes in two builds: one that counts several numbers at a time, one that does not. */
const TWICE = ["signals", "pictures"];

/** @param {string[]} [names] Modules without a browser, as one; their glue is read as text because the site says nothing to Node of what it is. */
async function bench(names = MODULES) {
  const all = {};
  for (const name of names) {
    const glue = readFileSync(join(SITE, `bench/lampblack-${name}.js`));
    const bridge = await import(`data:text/javascript;base64,${glue.toString("base64")}`);
    bridge.initSync({ module: readFileSync(join(SITE, `bench/lampblack-${name}_bg.wasm`)) });
    Object.assign(all, bridge);
  }
  return all;
}

/** @param {string} name */
const lines = (name) =>
  readFileSync(join(WRITTEN, name), "utf8").split("\n").filter(Boolean).map((line, i) => ({ at: `${name}:${i + 1}`, ...JSON.parse(line) }));

test("native and WASM write the same inspections", { timeout: 300_000 }, async () => {
  const bridge = await bench();
  const cases = lines("inspections.ndjson");
  assert.ok(cases.length >= LEAST, `${cases.length} inspections are written, and at least ${LEAST} are wanted`);
  for (const { at, input, output } of cases) {
    // The time of day is the one thing that the inspection does not carry.
    const now = JSON.parse(output).updated;
    const written = bridge.write_file(JSON.parse(bridge.accept(JSON.parse(input), now)).inspection);
    assert.equal(written, output, at);
  }
});

for (const end of ["", "-plain"]) test(`native and WASM measure the same times in every signal${end}`, { timeout: 300_000 }, async () => {
  const bridge = await bench([`signals${end}`]);
  const cases = lines("signals.ndjson");
  assert.ok(cases.length >= LEAST_SIGNALS, `${cases.length} signals are written, and at least ${LEAST_SIGNALS} are wanted`);
  let shots = 0;
  for (const { at, file, about, frames, output } of cases) {
    let measured;
    try {
      measured = { take: JSON.parse(frames ? bridge.measure_frames(Float64Array.from(frames.rows), frames.clock_step_s, about) : bridge.measure_wav(new Uint8Array(readFileSync(join(SIGNALS, file))), about)) };
    } catch (error) {
      measured = { error: /** @type {Error} */ (error).message };
    }
    // Strict equality of numbers: the same bits, and no zero of another sign.
    assert.deepStrictEqual(measured, output, `${at} ${file}`);
    shots += output.take?.take.shots.length ?? 0;
  }
  assert.ok(shots > 100, `${shots} shots`);
});

for (const end of ["", "-plain"]) test(`native and WASM find the same opening${end}`, async () => {
  const bridge = await bench([`pictures${end}`]);
  const cases = lines("openings.ndjson");
  assert.equal(cases.length, 2);
  for (const { at, codes, width, height, factor, output } of cases) {
    const rgba = Uint8Array.from(codes.flatMap((/** @type {number} */ code) => [code, code, code, 255]));
    const light = bridge.picture_strip(rgba, width, height, factor);
    const [columns, rows] = [width / factor, height / factor];
    const found = bridge.find_opening(light, columns, rows, columns / 2, rows / 2, "2", ["2", "16"]);
    assert.deepStrictEqual(JSON.parse(found), output, at);
  }
});

test("native and WASM reckon the same light of sun, sky and photos", async () => {
  const bridge = await bench();
  const cases = lines("lights.ndjson");
  assert.ok(cases.length > 50);
  for (const { at, sun, photo, patch, output } of cases) {
    if (sun) {
      assert.deepStrictEqual(JSON.parse(bridge.sun_view(...sun)), output, at);
      continue;
    }
    const [width, height] = patch;
    const rgba = Uint8ClampedArray.from({ length: width * height * 4 }, (_, i) => 60 + ((i * 37) % 97));
    const sums = JSON.parse(bridge.photo_strip({ patch: { x: 0, y: 0, width, height }, light: [], counts: [], clipped: 0, black: 0 }, rgba, width, 0, 0));
    const light = JSON.parse(bridge.photo_light(new Uint8Array(readFileSync(join(TOP, "tests/pictures", photo))), sums, null));
    assert.deepStrictEqual({ sums, light }, output, photo);
  }
});

test("every question that the worker passes on is in the module that it names, and none is left out", async () => {
  const worker = readFileSync(join(SITE, "bench/worker.js"), "utf8");
  const most = /const MOST = (\[.*?\])/s.exec(worker)?.[1] ?? "";
  const lists = [...worker.replaceAll(/\.\.\.MOST|(?<=questions: )MOST/g, most).matchAll(/import\("\.\/lampblack-(\w+)\.js"\).*?questions: \[(.*?)\](?=,\n)/gs)];
  assert.deepEqual(lists.map(([, name]) => name).sort(), [...MODULES].sort());
  for (const [, name, list] of lists) {
    const glue = readFileSync(join(SITE, `bench/lampblack-${name}.js`), "utf8");
    const there = [...glue.matchAll(/^export function (\w+)\(/gm)].map(([, one]) => one).filter((one) => one !== "start" && one !== "initSync");
    assert.deepEqual([...list.matchAll(/"(\w+)"/g)].map(([, one]) => one).sort(), there.sort(), name);
  }
});

test("the page reads every answer as JSON but those that are texts themselves", async () => {
  const worker = readFileSync(join(SITE, "bench/worker.js"), "utf8");
  const texts = [...(/const TEXTS = \[(.*?)\]/s.exec(worker)?.[1] ?? "").matchAll(/"(\w+)"/g)].map(([, one]) => one);
  const told = readFileSync(join(TOP, "www/bench/lampblack.d.ts"), "utf8").matchAll(/^export function (\w+)\(.*\): string;$/gm);
  assert.deepEqual(texts.sort(), [...told].map(([, one]) => one).sort());
  const bridge = await bench();
  assert.deepEqual(JSON.parse(bridge.places(["1", "1/2"], "whole", "time")).map((/** @type {any} */ one) => one.mark ?? one.label), ["1", "1/2"]);
});

test("one build counts several numbers at a time, the other runs where that is not known", () => {
  // Two of the instructions: sum and product of two numbers each, which every filter is made of.
  const wide = (/** @type {string} */ name) => {
    const bytes = readFileSync(join(SITE, `bench/lampblack-${name}_bg.wasm`));
    let found = 0;
    for (let at = 0; at + 2 < bytes.length; at += 1) {
      found += Number(bytes[at] === 0xfd && (bytes[at + 1] === 0xf2 || bytes[at + 1] === 0xf0) && bytes[at + 2] === 0x01);
    }
    return found;
  };
  for (const name of TWICE) {
    assert.ok(wide(name) > 50, `${name}: ${wide(name)}`);
    assert.ok(wide(`${name}-plain`) < 3, `${name}-plain: ${wide(`${name}-plain`)}`);
  }
});
