/**
 * A real H.264 clip, made from known brightness, goes through the page to times; a packed recording that the browser decodes does too.
 * Both are made by `ffmpeg`; without it, or without a browser that decodes H.264, they are left out and say so.
 * Not here: what is no clip (`shutter.test.mjs`).
 */

import assert from "node:assert/strict";
import { spawnSync } from "node:child_process";
import { readFileSync, writeFileSync } from "node:fs";
import { address, onPhone } from "./support.mjs";
import { astray, camera, LIGHT_FILE, LIGHTS, place, record, signal } from "./takes.mjs";

const skip = spawnSync("ffmpeg", ["-version"]).status === 0 ? false : "ffmpeg is not here, which makes the clip";

const RATE = 240;
const [WIDTH, HEIGHT] = [96, 64];
/** When the shutter opens, for how long, and what was marked; the first is the long one that gives the open level [s]. */
const SHOTS = [[0.2, 0.51, "1/2"], [0.92, 0.131, "1/8"], [1.25, 0.0702, "1/15"], [1.52, 0.0301, "1/30"], [1.75, 0.0188, "1/60"]];
const TRUTH = SHOTS.map(([from, time, mark]) => [mark, from, time, 0.04]);
const LENGTH_S = 2;
/** Linear light of the open gate and of the dark. */
const [OPEN, DARK] = [0.6, 0.002];

/** Light to code, ITU-R BT.709, limited range. @param {number} light */
const code = (light) => Math.round(16 + 219 * (light < 0.018 ? 4.5 * light : 1.099 * light ** 0.45 - 0.099));

/** Each frame is exposed for all of its interval. @param {number} i */
function lightOf(i) {
  const [from, to] = [i / RATE, (i + 1) / RATE];
  const open = SHOTS.map(([at, time]) => Math.max(0, Math.min(to, Number(at) + Number(time)) - Math.max(from, Number(at))));
  return DARK + (OPEN - DARK) * RATE * open.reduce((sum, one) => sum + one, 0);
}

/** @param {string[]} wanted How it is coded and written. @param {string} name */
function clip(wanted, name) {
  const frames = Array.from({ length: LENGTH_S * RATE }, (_, i) => {
    const frame = Buffer.alloc(WIDTH * HEIGHT * 1.5, 128);
    frame.fill(code(lightOf(i)), 0, WIDTH * HEIGHT);
    return frame;
  });
  writeFileSync(place("frames.yuv"), Buffer.concat(frames));
  const colours = ["-color_range", "tv", "-colorspace", "bt709", "-color_primaries", "bt709", "-color_trc", "bt709"];
  const input = ["-f", "rawvideo", "-pix_fmt", "yuv420p", "-s", `${WIDTH}x${HEIGHT}`, "-r", String(RATE), "-i", place("frames.yuv")];
  const made = spawnSync("ffmpeg", ["-v", "error", "-y", ...input, ...colours, ...wanted, place(name)], { encoding: "utf8" });
  assert.equal(made.status, 0, made.stderr);
  return place(name);
}
const H264 = ["-c:v", "libx264", "-preset", "veryfast", "-crf", "6", "-pix_fmt", "yuv420p", "-g", "30", "-bf", "2"];

/** @param {import("playwright-core").Page} page @param {string} key @param {string} file */
async function choose(page, key, file) {
  await page.goto(address(`clip.html?${new URLSearchParams({ i: key, marks: TRUTH.map(([mark]) => mark).join(" ") })}`));
  await page.locator("#clip-file").setInputFiles(file);
  await page.getByText(/frames$/).first().waitFor();
  await page.getByRole("radio", { name: "Slow to fast" }).check();
  await page.getByRole("radio", { name: "1", exact: true }).check();
}

onPhone("a clip of known brightness gives its times", async ({ page, context }) => {
  const key = await camera(page, "cloth");
  const decodes = await page.evaluate(() => document.createElement("video").canPlayType('video/mp4; codecs="avc1.64001f"') !== "");
  if (!decodes) {
    console.log("this browser does not decode H.264: the clip is left out");
    return;
  }
  await choose(page, key, clip(H264, "clip.mp4"));
  assert.match(await page.locator("main").innerText(), /240/);
  await page.getByLabel(/Exposure of each frame/).fill("1");
  await page.getByRole("button", { name: "Read the frames" }).click();
  await page.locator("progress").waitFor();
  await page.waitForURL(/take\.html/, { timeout: 150_000 });
  const [take] = (await record(page, key)).shutter.takes;
  assert.deepEqual(astray(take, TRUTH), []);
  assert.ok(take.shots.filter((/** @type {any} */ one) => one.state === "measured").length >= 4, JSON.stringify(take));
  assert.equal(take.signal, "video");
  assert.equal(Math.round(1 / take.frame_interval_s), RATE);
  // A second time, and stopped: nothing is kept of it.
  const again = await context.newPage();
  await choose(again, key, place("clip.mp4"));
  await again.getByRole("button", { name: "Read the frames" }).click();
  await again.getByText(/^[1-9]\d* of \d+ frames read/).waitFor();
  await again.getByRole("button", { name: "Stop" }).click();
  await again.getByRole("button", { name: "Read the frames" }).waitFor();
  assert.equal(await again.getByRole("alert").count(), 0);
  assert.equal((await record(again, key)).shutter.takes.length, 1);
}, { skip, timeout: 240_000 });

onPhone("a clip that says two rates is asked about, and one that cannot be decoded gets a sentence", async ({ page }) => {
  const key = await camera(page, "cloth");
  await choose(page, key, clip([...H264, "-movflags", "use_metadata_tags", "-metadata", "com.android.capture.fps=960"], "slow.mp4"));
  assert.match(await page.locator("main").innerText(), /960/);
  assert.ok(await page.getByRole("button", { name: "Read the frames" }).isDisabled());
  await page.getByRole("radio", { name: /captured at 960/ }).check();
  assert.ok(await page.getByRole("button", { name: "Read the frames" }).isEnabled());
  await choose(page, key, clip(["-c:v", "mpeg4", "-q:v", "2"], "old.mp4"));
  await page.getByRole("button", { name: "Read the frames" }).click();
  await page.getByRole("alert").waitFor();
  assert.match(await page.getByRole("alert").innerText(), /cannot decode this clip/);
  assert.equal((await record(page, key)).shutter.takes.length, 0);
}, { skip });

onPhone("a packed recording is decoded by the browser, and the record says so", async ({ page }) => {
  writeFileSync(place("light.wav"), signal(LIGHT_FILE));
  assert.equal(spawnSync("ffmpeg", ["-v", "error", "-y", "-i", place("light.wav"), place("light.flac")]).status, 0);
  const key = await camera(page, "metal");
  await page.goto(address(`listen.html?${new URLSearchParams({ i: key, marks: LIGHTS.map(([mark]) => mark).join(" ") })}`));
  await page.getByRole("radio", { name: /^Light/ }).check();
  await page.getByRole("radio", { name: "Slow to fast" }).check();
  await page.getByRole("radio", { name: "1", exact: true }).check();
  await page.locator("#sound-file").setInputFiles({ name: "light.flac", mimeType: "audio/flac", buffer: readFileSync(place("light.flac")) });
  await page.waitForURL(/take\.html/);
  const [take] = (await record(page, key)).shutter.takes;
  assert.match(take.capture.join("\n"), /decoded by the browser to 48000 samples a second/);
  assert.deepEqual(astray(take, LIGHTS), []);
  assert.equal(take.shots.filter((/** @type {any} */ one) => one.time_s !== null).length, 3);
}, { skip });
