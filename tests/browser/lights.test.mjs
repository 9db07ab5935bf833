/**
 * Light that is already there, through the pages: a photo, sun and sky, the screen; each to a level of the run, beside one another with
 * their own doubts.
 * Not here: how true the light is (`imaging`, `photometry`); the screen's pixels one by one (`lamp.test.mjs`).
 */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { address, onPhone } from "./support.mjs";
import { camera, record } from "./takes.mjs";

/** @param {string} name */
const picture = (name) => fileURLToPath(new URL(`../pictures/${name}`, import.meta.url));
const TRUTH = JSON.parse(readFileSync(picture("truth.json"), "utf8"));

/** @param {import("playwright-core").Page} page @param {string} key Takes the light in hand into a level and keeps it. */
async function keepLevel(page, key) {
  await page.waitForURL(/level\.html/);
  await page.getByRole("button", { name: "Enter it by hand instead" }).waitFor();
  await page.locator(".preview .big").waitFor();
  const before = (await record(page, key)).meter.runs.at(-1).levels.length;
  await page.getByRole("button", { name: "Keep and next" }).click();
  await page.getByText(`Level ${before + 1} kept.`).waitFor();
  return (await record(page, key)).meter.runs.at(-1);
}

onPhone("a photo gives the light of a patch, calibrates the phone, and becomes a level", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`photo.html?i=${key}`));
  await page.locator("#photo-file").setInputFiles(picture("phone2_cal_+0.jpg"));
  const answer = page.getByRole("region", { name: "The light of the patch" });
  await answer.getByText(/^EV /).waitFor();
  const doubt = async () => Number((await answer.innerText()).match(/±([0-9.]+)/)?.[1]);
  const before = await doubt();
  assert.ok(before > 0.8, `${before}`);
  // The patch moves and is sized by keyboard, and its light is read anew.
  const patch = page.getByRole("group", { name: /The patch that is measured/ });
  await patch.focus();
  const x = await page.locator("rect.patch").getAttribute("x");
  await page.keyboard.press("ArrowRight");
  assert.ok(Number(await page.locator("rect.patch").getAttribute("x")) > Number(x));
  const width = await page.locator("rect.patch").getAttribute("width");
  await page.keyboard.press("Shift+ArrowRight");
  assert.ok(Number(await page.locator("rect.patch").getAttribute("width")) > Number(width));

  await page.getByText("Calibrate this phone with it").click();
  await page.getByLabel("EV at ISO 100 by the trusted meter").fill(String((await answer.innerText()).match(/EV ([0-9.]+)/)?.[1]));
  await page.getByLabel("Which meter").fill("a lamp in March");
  await page.getByRole("button", { name: "Add this photo" }).click();
  await page.getByRole("button", { name: "Work it out from 1" }).click();
  await page.getByText(/^Calibrated: photos read/).waitFor();
  await page.waitForFunction(() => document.body.innerText.includes("By this phone’s") || document.body.innerText.includes("By this phone's calibration"));
  assert.ok((await doubt()) < 0.6 * before);

  await page.locator("#photo-file").setInputFiles(picture("phone2_test_0.jpg"));
  await page.getByText(/By this phone.s calibration of/).waitFor();
  await page.getByRole("button", { name: "Use this light" }).click();
  const run = await keepLevel(page, key);
  assert.equal(run.reference.kind, "photo");
  assert.match(run.reference.note, /calibrated/);
  assert.ok(run.reference.shared_doubt_stops > 0.1 && run.reference.shared_doubt_stops < 0.2);
  assert.ok(run.levels[0].reference.own_doubt_stops > 0.1);
  await page.goto(address("phones.html"));
  await page.getByText(/against a lamp in March/).waitFor();
  await page.getByRole("button", { name: /^Throw away/ }).click();
  await page.getByText("No phone was calibrated yet.").waitFor();
});

onPhone("what cannot be measured is refused with a sentence, and the next photo goes on", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`photo.html?i=${key}`));
  const refused = Object.entries({ "odd_23_xmp_only.jpg": /untouched original/, "odd_45_clipped_patch.jpg": /burnt out/, "odd_53_pixels_truncated.jpg": /./, "odd_03_time_0_over_0.jpg": /exposure|time/ });
  for (const [name, said] of refused) {
    await page.locator("#photo-file").setInputFiles(picture(name));
    await page.getByText(name).waitFor();
    const alert = page.getByRole("region", { name: "The light of the patch" }).getByRole("alert").first();
    if (name.includes("truncated")) {
      // A browser may open half a picture; then it is measured as it is, and otherwise there is a reason.
      const region = page.getByRole("region", { name: "The light of the patch" });
      await region.waitFor();
      assert.match(await region.innerText(), /EV \d|cut off|damaged|opened|copied/);
      continue;
    }
    await alert.waitFor();
    assert.match(await alert.innerText(), said, name);
    assert.ok(await page.getByRole("button", { name: "Use this light" }).isDisabled());
  }
  await page.locator("#photo-file").setInputFiles(picture("ideal_03.jpg"));
  await page.getByRole("region", { name: "The light of the patch" }).getByText(/^EV /).waitFor();
  const { truth } = (TRUTH.cases ?? TRUTH).find((/** @type {any} */ one) => one.file === "ideal_03.jpg");
  const read = Number((await page.getByRole("region", { name: "The light of the patch" }).innerText()).match(/EV ([0-9.]+)/)?.[1]);
  // Shown to a tenth, and the patch begins where the truth's is.
  assert.ok(Math.abs(read - truth.EV100) <= 0.05 + truth.tol_EV, `${read} and ${truth.EV100}`);
  assert.ok(await page.getByRole("button", { name: "Use this light" }).isEnabled());
});

onPhone("sun and sky with a faked position and clock, beside a screen's step, in one run", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.clock.setFixedTime(new Date("2026-07-01T10:30:00Z"));
  await page.goto(address(`sun.html?i=${key}`));
  await page.getByRole("button", { name: "Ask the phone" }).click();
  const card = page.getByRole("region", { name: "The light to expect" });
  await card.waitFor();
  assert.match(await page.locator("main").innerText(), /The sun stands at 6[0-9.]+°, south/);
  assert.match(await card.innerText(), /EV 1[45]\.\d[^]*±0\.\d stop[^]*Sunny 16 reads 0\.\d stop (high|low)|is right/);
  assert.equal(await page.locator("figure svg").count(), 1);
  // By night there is a reason and no light.
  await page.clock.setFixedTime(new Date("2026-07-01T23:00:00Z"));
  await page.getByRole("radio", { name: /^partly cloudy/ }).check();
  await page.getByText(/below the horizon/).waitFor();
  assert.ok(await page.getByRole("button", { name: "Use this light" }).isDisabled());
  await page.clock.setFixedTime(new Date("2026-07-01T10:30:00Z"));
  await page.getByRole("radio", { name: /^clear/ }).check();
  await card.waitFor();
  await page.getByRole("button", { name: "Use this light" }).click();
  await keepLevel(page, key);

  await page.getByRole("link", { name: "from this screen" }).click();
  await page.getByLabel("EV of full white by a trusted meter").fill("11.3");
  await page.getByRole("radio", { name: /3 stops down/ }).check();
  await page.getByRole("region", { name: "The light of this step" }).getByText("EV 8.3").waitFor();
  await page.getByRole("button", { name: "Use this step" }).click();
  const run = await keepLevel(page, key);
  assert.deepEqual([run.reference.kind, ...run.more_references.map((/** @type {any} */ one) => one.kind)], ["daylight", "screen"]);
  assert.deepEqual(run.levels.map((/** @type {any} */ one) => one.reference.source), [0, 1]);
  assert.equal(run.levels[1].reference.ev100, 8.3);
  const kept = JSON.stringify(await record(page, key));
  // A film has a latitude too, under names of its own.
  assert.ok(!/48\.21|16\.37|"latitude"|"longitude"/.test(kept), "the place goes into no record");
  await page.goto(address(`meter.html?i=${key}`));
  await page.getByRole("heading", { name: "References" }).waitFor();
  assert.match(await page.locator("main").innerText(), /Sun and sky, computed[^]*A phone.s screen as a lamp[^]*To halve its doubt/);
}, { context: { geolocation: { latitude: 48.21, longitude: 16.37 }, permissions: ["geolocation"], timezoneId: "Europe/Vienna" } });
