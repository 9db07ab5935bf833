/**
 * Kind to the phone: the screen is kept on only while something runs, the camera is let go of when nobody looks, memory is given back
 * after a large picture, and a page that is only open does nothing.
 * Not here: the microphone, whose takes end when the page goes out of sight (`capture.test.mjs`).
 */

import assert from "node:assert/strict";
import { comesTo } from "./patience.mjs";
import { address, onPhone } from "./support.mjs";
import { camera } from "./takes.mjs";

/** Counts what the page holds: screens kept on, tracks of a camera that locks its exposure. */
const WATCHED = () => {
  globalThis.screens = [];
  const request = navigator.wakeLock.request.bind(navigator.wakeLock);
  navigator.wakeLock.request = async (kind) => {
    const lock = await request(kind);
    globalThis.screens.push(lock);
    return lock;
  };
  globalThis.tracks = [];
  navigator.mediaDevices.getUserMedia = async () => {
    const canvas = document.createElement("canvas");
    const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
    setInterval(() => pen.fillRect(0, 0, 1, 1), 40);
    const stream = canvas.captureStream(20);
    for (const track of stream.getTracks()) {
      track.getCapabilities = () => ({ exposureMode: ["continuous", "manual"] });
      track.applyConstraints = async () => {};
      globalThis.tracks.push(track);
    }
    return stream;
  };
  /** @param {boolean} hidden Out of sight, or back. */
  globalThis.sight = (hidden) => {
    Object.defineProperty(document, "hidden", { configurable: true, get: () => hidden });
    document.dispatchEvent(new Event("visibilitychange"));
  };
};

/** @param {import("playwright-core").Page} page What is held now. */
const held = (page) => page.evaluate(async () => ({
  screens: globalThis.screens.filter((/** @type {WakeLockSentinel} */ lock) => !lock.released).length,
  cameras: globalThis.tracks.filter((/** @type {MediaStreamTrack} */ track) => track.readyState === "live").length,
  busy: (await navigator.locks.query()).held?.filter(({ name }) => name === "lampblack.busy").length,
}));

/** @param {import("playwright-core").Page} page @param {Awaited<ReturnType<typeof held>>} wanted */
const holds = (page, wanted) => comesTo(() => held(page), wanted);

onPhone("the camera and the screen are held while the reading runs, and let go of out of sight", async ({ page }) => {
  await page.addInitScript(WATCHED);
  const key = await camera(page, "cloth");
  await page.goto(address(`live.html?i=${key}`));
  await holds(page, { screens: 0, cameras: 0, busy: 0 });
  await page.getByRole("button", { name: "Open the camera" }).click();
  await page.getByRole("button", { name: "Stop" }).waitFor();
  await holds(page, { screens: 1, cameras: 1, busy: 1 });
  await page.evaluate(() => globalThis.sight(true));
  await holds(page, { screens: 0, cameras: 0, busy: 0 });
  await page.evaluate(() => globalThis.sight(false));
  // The page says how it stands: nothing runs.
  await page.getByRole("button", { name: "Open the camera" }).click();
  await holds(page, { screens: 1, cameras: 1, busy: 1 });
  await page.getByRole("button", { name: "Stop" }).click();
  await holds(page, { screens: 0, cameras: 0, busy: 0 });
});

onPhone("a screen that the phone darkened out of sight is kept on again, and let go of once", async ({ page }) => {
  await page.addInitScript(WATCHED);
  await page.goto(address());
  const over = await page.evaluateHandle(async () => (await load("capture/awake.js")).keepAwake());
  await holds(page, { screens: 1, cameras: 0, busy: 1 });
  await page.evaluate(async () => {
    globalThis.sight(true);
    await globalThis.screens[0].release();
    globalThis.sight(false);
  });
  await holds(page, { screens: 1, cameras: 0, busy: 1 });
  await page.evaluate((end) => end(), over);
  await holds(page, { screens: 0, cameras: 0, busy: 0 });
});

onPhone("after a large picture the worker ends, and the next question starts another", async ({ page }) => {
  await page.addInitScript(() => {
    globalThis.workers = [];
    globalThis.Worker = class extends Worker {
      constructor(/** @type {[string, WorkerOptions]} */ ...values) {
        super(...values);
        globalThis.workers.push("running");
        this.at = globalThis.workers.length - 1;
      }

      terminate() {
        super.terminate();
        globalThis.workers[this.at] = "ended";
      }
    };
  });
  await page.goto(address());
  const seen = await page.evaluate(async () => {
    const bench = await (await load("bench/client.js")).bench();
    await bench.version();
    const small = await bench.pictureStrip(new Uint8ClampedArray(64 * 64 * 4), 64, 64, 1);
    const after = [...globalThis.workers];
    const large = await bench.pictureStrip(new Uint8ClampedArray(4096 * 3000 * 4), 4096, 3000, 1);
    const then = [...globalThis.workers];
    return { lengths: [small.length, large.length], after, then, version: await bench.version(), last: [...globalThis.workers] };
  });
  assert.deepEqual(seen.lengths, [64 * 64, 4096 * 3000]);
  assert.deepEqual([seen.after, seen.then, seen.last], [["running"], ["ended"], ["ended", "running"]]);
  assert.match(seen.version, /^lampblack/);
});

onPhone("a page that is only open does nothing: no timer, no frame, no request", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.addInitScript(() => {
    globalThis.done = [];
    for (const name of /** @type {const} */ (["setInterval", "setTimeout", "requestAnimationFrame", "fetch"])) {
      const own = /** @type {any} */ (globalThis)[name].bind(globalThis);
      /** @type {any} */ (globalThis)[name] = (/** @type {any[]} */ ...values) => {
        globalThis.done.push(name);
        return own(...values);
      };
    }
  });
  for (const name of ["index", "inspection", "meter", "shutter", "listen", "live", "tight", "lamp", "sun"]) {
    await page.goto(address(`${name}.html?i=${key}`));
    await page.waitForFunction(() => !document.querySelector("main [role=status]")?.textContent?.includes("One moment"));
    await page.waitForTimeout(500);
    const asked = [];
    page.on("request", (request) => asked.push(request.url()));
    await page.evaluate(() => globalThis.done.splice(0));
    await page.waitForTimeout(1500);
    assert.deepEqual([await page.evaluate(() => globalThis.done), asked, await page.evaluate(() => document.getAnimations().length)], [[], [], 0], name);
    page.removeAllListeners("request");
  }
});
