/**
 * What the tests of the shutter's pages share: a camera with marked times, recordings cut and written as WAV, the microphone that
 * plays one, and how far a take is from the truth.
 * Not here: the tests; what stands in a WAV (`tests/signals`).
 */

import { mkdtempSync, readFileSync, rmSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { after } from "node:test";
import { fileURLToPath } from "node:url";
import { address } from "./support.mjs";

const folder = mkdtempSync(join(tmpdir(), "lampblack-takes-"));
after(() => rmSync(folder, { recursive: true, force: true }));

/** A place for a file of this run. @param {string} name */
export const place = (name) => join(folder, name);
/** @param {string} name */
export const signal = (name) => readFileSync(fileURLToPath(new URL(`../signals/timing/${name}`, import.meta.url)));

/** The ladder of sounds and a light trace, both at the rate of the tests' microphone. */
export const [SOUND_FILE, LIGHT_FILE] = ["sound-02-ladder-metal-44k.wav", "light-04-44k-inverted.wav"];

/**
 * What is true of a recording: each shot's mark, where it begins, its time, and how far off a good measurement may find it [stops].
 *
 * @param {string} file
 * @returns {[string, number, number, number][]}
 */
function truth(file) {
  const { cases } = JSON.parse(signal("truth.json").toString());
  const { shots } = cases.find((/** @type {any} */ one) => one.file === file);
  const mark = (/** @type {number} */ seconds) => `1/${Math.round(1 / seconds)}`;
  return shots.map((/** @type {any} */ one) => [mark(one.nominal), one.t0 ?? one.open, one.t_mid ?? one.t_eff, one.grade.tol_stops]);
}
export const [SOUNDS, LIGHTS] = [truth(SOUND_FILE), truth(LIGHT_FILE)];

/** A WAV's head as RIFF has it. @param {number} count @param {number} rate @param {{ data?: number }} [lie] */
export function head(count, rate, { data = count * 2 } = {}) {
  const bytes = Buffer.alloc(44);
  bytes.write("RIFF", 0);
  bytes.writeUInt32LE(36 + count * 2, 4);
  bytes.write("WAVEfmt ", 8);
  bytes.writeUInt32LE(16, 16);
  for (const [at, value] of [[20, 1], [22, 1], [32, 2], [34, 16]]) {
    bytes.writeUInt16LE(value, at);
  }
  bytes.writeUInt32LE(rate, 24);
  bytes.writeUInt32LE(rate * 2, 28);
  bytes.write("data", 36);
  bytes.writeUInt32LE(data, 40);
  return bytes;
}

/** @param {Int16Array} samples @param {number} rate @param {{ data?: number }} [lie] */
export const wav = (samples, rate, lie) => Buffer.concat([head(samples.length, rate, lie), Buffer.from(samples.buffer, samples.byteOffset, samples.byteLength)]);

/** @param {Buffer} bytes A WAV with a plain head. */
const samplesOf = (bytes) => new Int16Array(bytes.buffer.slice(bytes.byteOffset + 44, bytes.byteOffset + bytes.length - (bytes.length % 2)));

/**
 * A recording as a person makes it: quiet first, and the shots apart from one another.
 *
 * @param {Buffer} bytes
 * @param {number} rate
 * @param {readonly [number, number][]} cuts Each shot's piece, from and to [s]; the quiet between them is the recording's first tenth of a second.
 * @param {number} apart [s]
 * @param {number} lead Quiet before the first [s].
 */
export function paced(bytes, rate, cuts, apart, lead) {
  const all = samplesOf(bytes);
  const room = all.slice(0, Math.round(0.1 * rate));
  const quiet = (/** @type {number} */ seconds) => {
    const out = new Int16Array(Math.round(seconds * rate));
    // Back and forth, so that no step is made where it begins anew.
    return out.map((_, i) => room[Math.floor(i / room.length) % 2 === 0 ? i % room.length : room.length - 1 - (i % room.length)] ?? 0);
  };
  const parts = cuts.flatMap(([from, to], i) => [quiet(i === 0 ? lead : apart), all.slice(Math.round(from * rate), Math.round(to * rate))]);
  const whole = [...parts, quiet(3)];
  const out = new Int16Array(whole.reduce((count, part) => count + part.length, 0));
  let at = 0;
  for (const part of whole) {
    out.set(part, at);
    at += part.length;
  }
  return wav(out, rate);
}

/** A browser whose microphone plays a file once. @param {string} name @param {() => Buffer} make */
export const playing = (name, make) => () => {
  writeFileSync(place(name), make());
  return ["--use-fake-device-for-media-stream", "--use-fake-ui-for-media-stream", `--use-file-for-fake-audio-capture=${place(name)}%noloop`, "--autoplay-policy=no-user-gesture-required"];
};

/**
 * A camera with marked times and a build.
 *
 * @param {import("playwright-core").Page} page
 * @param {string} build Key.
 * @param {RegExp} [kind]
 * @returns {Promise<string>} Its key.
 */
export async function camera(page, build, kind = /Rangefinder/) {
  await page.goto(address("index.html"));
  await page.getByRole("link", { name: "New camera" }).click();
  await page.getByRole("button", { name: kind }).click();
  await page.getByLabel("Maker").waitFor();
  const key = new URL(page.url()).searchParams.get("i") ?? "";
  await page.evaluate(async ([of, built]) => {
    const { open } = await load("store/edit.js");
    const desk = await open(of);
    await desk.apply((/** @type {any} */ draft) => {
      draft.camera.time_series = "modern";
      draft.camera.times = ["1", "1/2", "1/4", "1/8", "1/15", "1/30", "1/60", "1/125", "1/250", "1/500", "1/1000", "1/2000"];
      draft.shutter.build = built;
    }, "marked times");
    desk.close();
  }, [key, build]);
  return key;
}

/** @param {import("playwright-core").Page} page @param {string} key @returns {Promise<any>} The camera's record as it is kept. */
export const record = (page, key) => page.evaluate(async (of) => (await (await load("store/inspections.js")).get(of)).inspection, key);

/**
 * What is wrong with a take: a shot that stands at another mark, or that claims a time further off than it may be.
 *
 * @param {any} take
 * @param {readonly (readonly any[])[]} truth
 * @returns {string[]}
 */
export function astray(take, truth) {
  const faults = [];
  for (const [mark, , time, stops] of truth) {
    const shots = take.shots.filter((/** @type {any} */ shot) => shot.marked === mark && !shot.dropped);
    for (const shot of shots.filter((/** @type {any} */ one) => one.time_s !== null && ["measured", "probable"].includes(one.state))) {
      const off = Math.abs(Math.log2(shot.time_s / time));
      if (!(off <= stops)) {
        faults.push(`${mark}: ${shot.time_s} s is ${off.toFixed(3)} stop off, ${shot.state}`);
      }
    }
  }
  return faults;
}
