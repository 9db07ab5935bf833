/**
 * What a person can enter by hand and no bench can take: a sentence where it was entered, the rest of the page as it was, and
 * nothing kept of it. Not here: files (`import.test.mjs`); what the steppers give, which cannot be wrong.
 */

import assert from "node:assert/strict";
import { comesTo } from "./patience.mjs";
import { address, onPhone } from "./support.mjs";

/** @param {import("playwright-core").Page} page @returns {Promise<string>} The key of a new camera. */
async function begin(page) {
  await page.goto(address("new.html"));
  await page.getByRole("button", { name: /Rangefinder/ }).click();
  await page.getByLabel("Maker").waitFor();
  return new URL(page.url()).searchParams.get("i") ?? "";
}

/** @param {import("playwright-core").Page} page @param {string} key The camera as it is kept. */
const kept = (page, key) => page.evaluate(async (key) => (await (await load("store/inspections.js")).get(key)).inspection, key);

/**
 * @param {import("playwright-core").Locator} place Where the sentence must stand.
 * @param {RegExp} wanted
 * @param {string} what
 */
async function told(place, wanted, what) {
  const alert = place.getByRole("alert");
  await alert.filter({ hasText: wanted }).waitFor({ timeout: 10_000 }).catch(async () => {
    assert.fail(`${what}: ${JSON.stringify(await alert.allInnerTexts())}`);
  });
  assert.equal(await place.page().getByRole("alert").count(), 1, `${what}: said once, and nowhere else`);
}

/** Waits until the store holds `count` marks in the list at `path`. */
const marksKept = (page, key, [part, list], count) => comesTo(async () => (await kept(page, key))[part][list].length, count, `marks in ${part}.${list}`);

onPhone("marks that no dial has are refused beside their dial", async ({ page }) => {
  const key = await begin(page);
  await page.getByRole("radio", { name: /^Modern/ }).check();
  await page.locator("input[name=widest]").first().check();
  await page.locator("#another-f-number").waitFor();
  // What was chosen shows before it is kept.
  await marksKept(page, key, ["lens", "f_numbers"], 8);
  const before = await kept(page, key);
  for (const [dial, typed] of [
    ["another-time", "1/0"], ["another-time", "NaN"], ["another-time", "-1/60"], ["another-time", "0"], ["another-time", "1/1e9"],
    ["another-f-number", "-2"], ["another-f-number", "f/0"], ["another-f-number", "NaN"], ["another-f-number", "400000"], ["another-f-number", "wide open"],
  ]) {
    await page.locator(`#${dial}`).fill(typed);
    await page.locator(`#${dial}`).press("Enter");
    const dialOf = page.locator("fieldset", { has: page.locator(`#${dial}`) });
    await told(dialOf, new RegExp(`"?${typed.replace("f/", "")}"? was given\\.$`), typed);
    // The next one that can be taken takes the sentence away.
    // Each click is waited for in the store, else the reading below could fall between the two.
    const first = dialOf.getByRole("checkbox").first();
    const marked = await first.isChecked();
    const path = dial === "another-time" ? ["camera", "times"] : ["lens", "f_numbers"];
    const marks = before[path[0]][path[1]].length;
    await first.setChecked(!marked);
    await dialOf.getByRole("alert").waitFor({ state: "detached" });
    await marksKept(page, key, path, marks + (marked ? -1 : 1));
    await first.setChecked(marked);
    await marksKept(page, key, path, marks);
  }
  const after = await kept(page, key);
  assert.deepEqual([after.camera.times, after.lens.f_numbers], [before.camera.times, before.lens.f_numbers]);
});

onPhone("numbers that are none are refused below their field and stay there to be put right", async ({ page }) => {
  const key = await begin(page);
  for (const [path, typed] of [["camera", "abc"], ["camera", "NaN"], ["camera", "1e999"], ["inspection", "NaN"], ["inspection", "-5"]]) {
    await page.goto(address(`${path}.html?i=${key}`));
    const label = path === "camera" ? "Voltage under load, in volts" : "Value when sound";
    const field = page.locator(".field", { has: page.getByLabel(label) });
    await field.getByRole("textbox").fill(typed);
    await told(field, new RegExp(`"?${typed}"? was given\\.$`), `${label} ${typed}`);
    assert.equal(await field.getByRole("textbox").inputValue(), typed);
    assert.equal(await field.getByRole("textbox").getAttribute("aria-invalid"), "true");
    await field.getByRole("textbox").fill("1,5");
    await field.getByRole("alert").waitFor({ state: "detached" });
  }
  await page.goto(address(`camera.html?i=${key}`));
  const maker = page.locator(".field", { has: page.getByLabel("Maker") });
  await maker.getByRole("textbox").fill("x".repeat(401));
  await told(maker, /401 bytes long, and at most 400/, "a long name");
  const { battery, camera } = await kept(page, key);
  assert.deepEqual([battery.voltage, camera.maker], ["1,5", ""]);
});

onPhone("a reference without a doubt, light that is none, and an empty run say so in their places", async ({ page }) => {
  const key = await begin(page);
  await page.goto(address(`reference.html?i=${key}`));
  await page.getByRole("radio", { name: /lux/i }).first().check();
  await page.locator("#each_doubt_stops").selectOption("0");
  await page.locator("#shared_doubt_stops").selectOption("0");
  await told(page.locator("main"), /without a doubt/, "no doubt");
  const below = await page.locator(".stepper:has(#shared_doubt_stops) ~ .refusal").count();
  assert.equal(below, 1, "below the doubt that was entered last");
  await page.goto(address(`meter.html?i=${key}`));
  await page.getByText("No level yet.").waitFor();
  assert.equal(await page.locator(".call, .plot").count(), 0, "an empty run is judged by nobody");
  await page.goto(address(`level.html?i=${key}`));
  for (const typed of ["NaN", "-3", "0", "1e999", "1/0", "1e300"]) {
    const field = page.locator(".field", { has: page.locator("#light-typed") });
    await page.locator("#light-typed").fill(typed);
    await told(field, new RegExp(typed), typed);
    assert.ok(await page.getByRole("button", { name: "Keep and next" }).isDisabled(), typed);
  }
  await page.locator("#light-typed").fill("3 200");
  await page.locator(".preview .big").waitFor();
  // Film speed 0 and EV 400 are on no stepper.
  const offered = await page.locator("select option").evaluateAll((all) => all.map((one) => /** @type {HTMLOptionElement} */ (one).value));
  assert.ok(offered.length > 40 && !offered.some((mark) => mark === "0" || mark === "400.0" || Number(mark) < -6));
});

onPhone("levels that are all alike give an offset, and the page says what they do not give", async ({ page }) => {
  const key = await begin(page);
  await page.goto(address(`reference.html?i=${key}`));
  await page.getByRole("radio", { name: /Another exposure meter/ }).check();
  await page.getByRole("link", { name: "Enter levels" }).click();
  for (let n = 1; n <= 3; n += 1) {
    await page.locator(".preview .big").waitFor();
    await page.getByRole("button", { name: "Keep and next" }).click();
    await page.getByText(`Level ${n} kept.`).waitFor();
  }
  await page.goto(address(`meter.html?i=${key}`));
  await page.getByRole("heading", { name: "3 levels" }).waitFor();
  await page.getByText("All levels are alike, so nothing is known about the rest of the range: add dimmer and brighter ones.").waitFor();
  const { result } = await kept(page, key);
  assert.equal(result.meter.slope_stops_per_stop, null);
});
