/**
 * The live reading: where the exposure can be locked it tells differences in stops and lets go of the camera; where it cannot, it says so.
 * Not here: photos (`lights.test.mjs`).
 */

import assert from "node:assert/strict";
import { address, onPhone } from "./support.mjs";
import { camera } from "./takes.mjs";

/** A camera that sees one grey, and says that its exposure can be locked. */
const SEES = (/** @type {boolean} */ locks) => {
  const canvas = document.createElement("canvas");
  [canvas.width, canvas.height] = [320, 240];
  const pen = /** @type {CanvasRenderingContext2D} */ (canvas.getContext("2d"));
  globalThis.grey = 118;
  globalThis.tracks = [];
  setInterval(() => {
    pen.fillStyle = `rgb(${globalThis.grey}, ${globalThis.grey}, ${globalThis.grey})`;
    pen.fillRect(0, 0, 320, 240);
  }, 40);
  navigator.mediaDevices.getUserMedia = async () => {
    const stream = canvas.captureStream(20);
    for (const track of stream.getTracks()) {
      track.getCapabilities = () => (locks ? { exposureMode: ["continuous", "manual"] } : {});
      track.applyConstraints = async () => {};
      globalThis.tracks.push(track);
    }
    return stream;
  };
};

onPhone("with the exposure locked it tells differences in stops, and lets go of the camera", async ({ page }) => {
  await page.addInitScript(SEES, true);
  const key = await camera(page, "cloth");
  await page.goto(address(`live.html?i=${key}`));
  await page.getByRole("button", { name: "Open the camera" }).click();
  const card = page.getByRole("region", { name: "Against zero" });
  await card.getByText("no difference").waitFor();
  // Code 162 is twice the light of code 118.
  await page.evaluate(() => { globalThis.grey = 162; });
  await card.getByText("1.0 stop brighter").waitFor();
  assert.match(await card.innerText(), /±0\.[45] stop/);
  await page.getByRole("button", { name: "Zero here" }).click();
  await card.getByText("no difference").waitFor();
  await page.evaluate(() => { globalThis.grey = 255; });
  await page.getByRole("alert").getByText(/burnt out/).waitFor();
  await page.getByRole("button", { name: "Stop" }).click();
  assert.deepEqual(await page.evaluate(() => globalThis.tracks.map((/** @type {MediaStreamTrack} */ track) => track.readyState)), ["ended"]);
});

onPhone("a browser that locks nothing gets a sentence and no number", async ({ page }) => {
  await page.addInitScript(SEES, false);
  const key = await camera(page, "cloth");
  await page.goto(address(`live.html?i=${key}`));
  await page.getByRole("button", { name: "Open the camera" }).click();
  await page.getByRole("alert").getByText(/does not lock the camera/).waitFor();
  assert.deepEqual(await page.evaluate(() => globalThis.tracks.map((/** @type {MediaStreamTrack} */ track) => track.readyState)), ["ended"]);
  assert.ok(await page.getByRole("button", { name: "Open the camera" }).isEnabled());
});
