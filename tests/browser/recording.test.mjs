/**
 * A recording that the person keeps: there on the take's page, worked out again to the same times, never in a file, thrown away for
 * good; and where a take is listened to without the wish, nothing is kept.
 * Not here: what is heard in it (`listen.test.mjs`).
 */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { comesTo } from "./patience.mjs";
import { address, onPhone } from "./support.mjs";
import { camera, LIGHT_FILE, LIGHTS, paced, playing, record, signal } from "./takes.mjs";

const LIGHT = playing("kept.wav", () => paced(signal(LIGHT_FILE), 44100, [[0.1, 1.1]], 0, 2.5));

/** @param {import("playwright-core").Page} page @returns {Promise<{ id: string, type: string, size: number }[]>} What lies in the store. */
const recordings = (page) => page.evaluate(async () => {
  const { use } = await load("store/database.js");
  const all = await use((/** @type {any} */ db) => db.getAll("recordings"));
  return all.map(({ id, blob }) => ({ id, type: blob.type, size: blob.size }));
});

onPhone("a recording is kept where it is wanted, worked out again, handed on, and thrown away", async ({ page }) => {
  const key = await camera(page, "metal");
  await page.goto(address(`listen.html?${new URLSearchParams({ i: key, marks: LIGHTS.map(([mark]) => mark).join(" ") })}`));
  await page.getByRole("radio", { name: /^Light/ }).check();
  await page.getByRole("radio", { name: "1", exact: true }).check();
  await page.getByRole("checkbox", { name: /Keep the recording/ }).check();
  await page.getByRole("button", { name: "Listen" }).click();
  await page.locator(".asked").waitFor();
  await page.waitForURL(/take\.html/, { timeout: 40_000 }).catch(async () => {
    await page.getByRole("button", { name: "Stop" }).click();
    await page.waitForURL(/take\.html/);
  });
  await page.getByText("The recording is kept on this phone.").waitFor();
  const [kept] = await recordings(page);
  const take = (await record(page, key)).shutter.takes[0];
  assert.equal(take.kept, kept?.id);
  assert.ok(kept.type === "audio/wav" && kept.size > 44100 * 2, JSON.stringify(kept));

  const saving = page.waitForEvent("download");
  await page.getByRole("link", { name: "Save it as a file" }).click();
  const file = readFileSync(await (await saving).path());
  assert.equal(file.length, kept.size);
  assert.deepEqual([file.toString("latin1", 0, 4), file.readUInt32LE(4), file.readUInt32LE(24), file.readUInt32LE(40)], ["RIFF", file.length - 8, 44100, file.length - 44]);

  // What the person decided stands, and the times are those of before but for the 16 bits that are kept.
  // A shot that wants a decision lies open already.
  await page.locator("#shot-1 details").evaluate((details) => /** @type {HTMLDetailsElement} */ (details).setAttribute("open", ""));
  await page.locator("#shot-1").getByRole("button", { name: /Leave it out/ }).click();
  await page.locator(".shot.out").waitFor();
  // It shows at once and is kept a moment later.
  take.shots[0].dropped = true;
  await page.getByRole("button", { name: "Work it out again" }).click();
  await page.getByText(/Worked out again/).waitFor();
  const after = (await record(page, key)).shutter.takes[0];
  assert.deepEqual(after.shots.map((/** @type {any} */ one) => [one.marked, one.dropped, one.state]), take.shots.map((/** @type {any} */ one) => [one.marked, one.dropped, one.state]));
  after.shots.forEach((/** @type {any} */ one, /** @type {number} */ i) => {
    const was = take.shots[i];
    assert.ok(one.time_s === was.time_s || Math.abs(one.time_s - was.time_s) < was.standard_uncertainty_s, `${one.time_s} was ${was.time_s}`);
  });
  assert.deepEqual([after.kept, after.started], [take.kept, take.started]);

  await page.getByRole("button", { name: "Throw it away for good" }).click();
  await page.waitForFunction(() => !document.body.innerText.includes("kept on this phone"));
  // It shows at once and is gone a moment later.
  await comesTo(() => recordings(page), []);
  assert.equal((await record(page, key)).shutter.takes[0].kept, "");
}, { flags: LIGHT, timeout: 240_000 });

onPhone("a recording goes when its camera does, and one that a camera uses stays", async ({ page }) => {
  const keys = [await camera(page, "metal"), await camera(page, "cloth")];
  const ids = await page.evaluate(async ([gone, stays]) => {
    const [{ open }, { putRecording }] = [await load("store/edit.js"), await load("store/recordings.js")];
    const ids = [];
    for (const key of [gone, stays]) {
      const id = await putRecording(new Blob(["x"], { type: "audio/wav" }));
      const desk = await open(key);
      const take = { started: "2026-03-01T09:30:00Z", signal: "sound", source: "microphone", capture: [], asked: [], coupling_s: [], shots: [], notices: [], mirror: false, sample_rate_hz: 48000, frame_interval_s: null, offset_s: null, kept: id };
      await desk.apply((/** @type {any} */ draft) => draft.shutter.takes.push(take), "take");
      desk.close();
      ids.push(id);
    }
    const bin = await load("store/bin.js");
    await bin.remove(gone);
    await bin.empty();
    return ids;
  }, keys);
  assert.deepEqual((await recordings(page)).map((one) => one.id), [ids[1]]);
});
