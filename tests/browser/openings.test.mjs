/**
 * Computed pictures of openings and of scattered light go through the page, at a phone's size, to figures that are held against
 * their truth, and on to the sheet with its plot and picture; what is no such picture gets a sentence and the others go on.
 * Not here: how well openings are found (`crates/imaging`, `crates/cli`).
 */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { comesTo, until } from "./patience.mjs";
import { address, onPhone } from "./support.mjs";
import { camera, record } from "./takes.mjs";

/** @param {string} name */
const path = (name) => fileURLToPath(new URL(`../pictures/${name}`, import.meta.url));
/** @param {string} name */
const truth = (name) => JSON.parse(readFileSync(path(`${name}/truth.json`), "utf8"))[0];

const OPENINGS = truth("blades");
/** @type {{ f_number: number, file: string }[]} */
const FILES = OPENINGS.files;
const GLARE = truth("glare");

/** @param {import("playwright-core").Page} page @returns {Promise<string>} Key of a camera whose lens has the ring of the pictures. */
async function withRing(page) {
  const key = await camera(page, "cloth");
  await page.evaluate(async ([of, ring]) => {
    const { open } = await load("store/edit.js");
    const desk = await open(of);
    await desk.change(["lens", "f_numbers"], ring);
    desk.close();
  }, /** @type {const} */ ([key, FILES.map((one) => String(one.f_number))]));
  return key;
}

/** The true errors below the widest mark against their middle, from the true areas and the exact f-numbers (whole half stops). */
function trueErrors() {
  const exact = (/** @type {number} */ f) => 2 ** (Math.round(2 * Math.log2(f)) / 2);
  const reduced = OPENINGS.truth.per_stop.map((/** @type {any} */ one) => [String(one.f), Math.log2(one.area_px) + 2 * Math.log2(exact(one.f))]);
  const closed = reduced.slice(1).map(([, value = 0]) => value).sort((/** @type {number} */ a, /** @type {number} */ b) => a - b);
  const middle = closed[(closed.length - 1) / 2];
  return new Map(reduced.map(([mark, value]) => [mark, value - middle]));
}

onPhone("openings go from many photos to errors within their doubt, to the odd blade, and to the sheet with its plot and picture", async ({ page }) => {
  const key = await withRing(page);
  await page.goto(address(`openings.html?i=${key}`));
  // The set-up is looked at before anything is kept.
  await page.locator("#trial-file").setInputFiles(path(`blades/${FILES[0]?.file}`));
  await page.getByText("The opening is large enough, and whole.").waitFor();
  assert.equal((await record(page, key)).aperture.openings.length, 0);
  // Chosen in the wrong order; their files were written in the right one.
  const files = FILES.map(({ file }, i) => ({ name: file, mimeType: "image/jpeg", buffer: readFileSync(path(`blades/${file}`)), lastModified: i }));
  await page.locator("#opening-files").setInputFiles(files.slice(0, 5));
  await page.getByRole("heading", { name: "Photos" }).waitFor({ timeout: 60_000 });
  await page.locator("#opening-files").setInputFiles([...files.slice(5), { name: "broken.jpg", mimeType: "image/jpeg", buffer: Buffer.from("no picture") }]);
  await page.getByText(/broken\.jpg” cannot be opened/).waitFor({ timeout: 60_000 });
  // The sixth came alone, so that its mark is the person's to say where the guess is off.
  for (const [i, { f_number }] of FILES.entries()) {
    await page.locator(`#f-number-${i}`).selectOption(String(f_number));
  }
  await page.getByText(/of 5 stopped-down marks within/).first().waitFor();
  await page.getByText(/Without a photo/).waitFor({ state: "detached" });
  const { aperture, result } = await record(page, key);
  assert.deepEqual(aperture.openings.map((/** @type {any} */ one) => one.source), FILES.map(({ file }) => file));
  const wanted = trueErrors();
  for (const stop of result.aperture.stops.filter((/** @type {any} */ one) => !one.widest)) {
    const { value, standard_uncertainty } = stop.error_stops;
    assert.ok(Math.abs(value - (wanted.get(stop.f_number) ?? NaN)) < Math.max(0.06, 2.5 * standard_uncertainty), `f/${stop.f_number}: ${value} for ${wanted.get(stop.f_number)}`);
  }
  assert.equal(result.aperture.blade_count, 5);
  assert.equal(result.aperture.odd_blades.length, 1);
  assert.ok(Math.abs(result.aperture.odd_blades[0].deviation + 0.1) < 0.04);
  assert.equal(result.limits.some((/** @type {any} */ one) => one.about === "aperture"), true);
  // One picture is kept, shrunk, and stands on the sheet.
  await page.locator(".opening details summary").nth(1).click();
  await page.getByRole("button", { name: /Keep the picture as evidence ?: photo 2/ }).click();
  await page.getByText("This picture is kept as evidence").waitFor();
  await page.goto(address(`sheet.html?i=${key}`));
  await page.locator(".opening-figure img").waitFor();
  const sheet = await page.locator(".sheet").innerText();
  assert.match(sheet, /Aperture/);
  assert.match(sheet, /One blade sticks in by 1\d % of its distance|One blade sticks in by \d % of its distance/);
  assert.ok((await page.locator(".sheet svg").count()) >= 2);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth), false);
}, { timeout: 240_000 });

onPhone("a photo is moved, tapped again, left out, removed and brought back", async ({ page }) => {
  const key = await withRing(page);
  await page.goto(address(`openings.html?i=${key}`));
  await page.locator("#opening-files").setInputFiles(FILES.slice(0, 3).map(({ file }) => path(`blades/${file}`)));
  await page.getByRole("heading", { name: "Photos" }).waitFor({ timeout: 60_000 });
  const marks = async () => (await record(page, key)).aperture.openings.map((/** @type {any} */ one) => [one.f_number, one.source]);
  // What is done shows at once and is kept a moment later.
  const settled = (/** @type {unknown} */ wanted) => comesTo(marks, wanted);
  const before = await until(marks, (all) => all.length >= 3);
  assert.equal(before.length, 3);
  await page.locator(".opening details summary").first().click();
  await page.getByRole("button", { name: /Later ?: photo 1/ }).click();
  await page.waitForFunction((name) => document.querySelector(".opening small")?.textContent?.includes(name), before[1][1]);
  await settled([[before[0][0], before[1][1]], [before[1][0], before[0][1]], before[2]]);
  // By dragging, back again.
  const from = await page.locator(".handle").first().boundingBox();
  const to = await page.locator(".opening").nth(1).boundingBox();
  assert.ok(from && to);
  await page.locator(".handle").first().scrollIntoViewIfNeeded();
  await page.locator(".handle").first().evaluate((handle) => {
    const target = document.querySelectorAll(".opening")[1]?.getBoundingClientRect();
    const own = handle.getBoundingClientRect();
    const fire = (/** @type {string} */ kind, /** @type {number} */ y) => handle.dispatchEvent(new PointerEvent(kind, { pointerId: 1, clientX: own.x + 5, clientY: y, bubbles: true }));
    HTMLElement.prototype.setPointerCapture = () => {};
    fire("pointerdown", own.y + 5);
    fire("pointermove", (target?.y ?? 0) + 20);
    fire("pointerup", (target?.y ?? 0) + 20);
  });
  await page.waitForFunction((name) => document.querySelector(".opening small")?.textContent?.includes(name), before[0][1]);
  await settled(before);
  // A tap beside the opening finds none and says what to do; a tap on it finds it again.
  const picture = page.locator(".opening .overlaid").first();
  await picture.scrollIntoViewIfNeeded();
  await picture.click({ position: { x: 6, y: 6 } });
  await page.getByText(/No opening was found at the tap/).first().waitFor({ timeout: 30_000 });
  await picture.focus();
  await page.keyboard.press("Enter");
  await page.getByText(/No opening was found at the tap/).first().waitFor({ state: "detached", timeout: 30_000 });
  assert.ok((await record(page, key)).aperture.openings[0].area_px > 0);
  await page.getByRole("button", { name: /Remove\s+photo 1/ }).click();
  await page.waitForFunction(() => document.querySelectorAll(".opening").length === 2);
  await page.getByRole("button", { name: "Undo" }).click();
  await page.waitForFunction(() => document.querySelectorAll(".opening").length === 3);
}, { timeout: 240_000 });

onPhone("scattered light is compared before and after, and never named by what scatters it", async ({ page }) => {
  const key = await withRing(page);
  await page.goto(address(`glare.html?i=${key}`));
  await page.getByText(/Only ever a comparison/).waitFor();
  const slots = { with_normal: "with_lens_normal", with_long: "with_lens_long", without_normal: "no_lens_normal", without_long: "no_lens_long" };
  const choose = async (/** @type {[string, string][]} */ which) => {
    for (const [slot, name] of which) {
      await page.locator(`#glare-${slot}`).setInputFiles(path(`glare/${GLARE.files[name]}`));
      await page.locator(`#glare-${slot}`).locator("xpath=ancestor::section").getByText(/The line is the hole/).waitFor({ timeout: 30_000 });
    }
  };
  await choose(/** @type {[string, string][]} */ (Object.entries(slots)));
  await page.getByRole("button", { name: "Work it out" }).click();
  await page.getByText(/Alone this says nothing/).waitFor();
  const [measured] = (await record(page, key)).lens_measurements.glare;
  const { vgi_null_minus_ref: wanted, tol_abs } = GLARE.expect;
  assert.equal(measured.method, "two-exposure");
  assert.ok(Math.abs(measured.glare_index - wanted) < Math.max(tol_abs, 0.25 * wanted), `${measured.glare_index} for ${wanted}`);
  // Alone, without the long one, a figure is rough and says so.
  await page.getByRole("radio", { name: "after cleaning" }).check();
  await choose([["with_normal", "no_lens_normal"]]);
  await page.getByRole("button", { name: "Work out a rough figure" }).click();
  await page.getByText(/rough/).first().waitFor();
  await page.getByText(/percentage points/).waitFor();
  const said = (await page.locator(".card").first().innerText()).toLowerCase();
  for (const word of ["haze", "fungus", "dust"]) {
    assert.ok(!said.includes(word), said);
  }
}, { timeout: 240_000 });
