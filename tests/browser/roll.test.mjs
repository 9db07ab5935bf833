/**
 * The test roll at a phone's size: the list at the camera, the wait, photos of strips whose corners are dragged and walked with the
 * keyboard, the answer on the drawing of the open back, a wall, and what cannot be measured.
 * Not here: how often a strip is read right (`crates/imaging`, `crates/cli`).
 */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { fileURLToPath } from "node:url";
import { until } from "./patience.mjs";
import { address, onPhone } from "./support.mjs";
import { camera, record } from "./takes.mjs";

/** @param {string} name */
const path = (name) => fileURLToPath(new URL(`../pictures/film/${name}`, import.meta.url));
const TRUTH = JSON.parse(readFileSync(path("truth.json"), "utf8"));
/** @param {string} file */
const truth = (file) => TRUTH.fog.find((/** @type {any} */ one) => one.file === file);

/** @param {import("playwright-core").Page} page @param {string} legend @param {string} key */
const pick = (page, legend, key) => page.getByRole("group", { name: legend }).locator(`.choice-${key} input`).check();

/** Drags each corner to where it lies on the photo. @param {import("playwright-core").Page} page @param {[number, number][]} corners In pixels of the photo. @param {{ width: number, height: number }} size */
async function drag(page, corners, size) {
  await page.locator(".cornered").scrollIntoViewIfNeeded();
  for (const [i, [x, y]] of corners.entries()) {
    const box = await page.locator(".cornered img").boundingBox();
    const ring = await page.locator(".corner-ring").nth(i).boundingBox();
    assert.ok(box && ring);
    await page.mouse.move(ring.x + ring.width / 2, ring.y + ring.height / 2);
    await page.mouse.down();
    await page.mouse.move(box.x + (x / size.width) * box.width, box.y + (y / size.height) * box.height, { steps: 3 });
    await page.mouse.up();
  }
}

/** @param {import("playwright-core").Page} page @returns {Promise<{ width: number, height: number }>} Of the photo that is shown; those of the corpus are shown at their own shape. */
const shown = (page) => page.locator(".cornered svg").first().evaluate((svg) => ({ width: /** @type {SVGSVGElement} */ (svg).viewBox.baseVal.width, height: /** @type {SVGSVGElement} */ (svg).viewBox.baseVal.height }));

/** @param {import("playwright-core").Page} page @param {string} key @param {(roll: any) => boolean} wanted What is done shows at once and is kept a moment later. */
async function kept(page, key, wanted) {
  const { test_roll: roll, result } = await until(() => record(page, key), ({ test_roll }) => wanted(test_roll));
  assert.ok(wanted(roll), `not kept: ${JSON.stringify(roll.frames)}`);
  return { roll, told: result.test_roll };
}

onPhone("half an hour at the camera, the wait, and a leak that is at the hinge whichever way the strip lies", async ({ page }) => {
  const key = await camera(page, "cloth", /Single-lens/);
  await page.goto(address(`tight.html?i=${key}`));
  await page.getByRole("link", { name: "Test roll: not yet" }).click();
  await page.getByText("about 28 minutes left").waitFor();
  await page.getByRole("checkbox", { name: "Load a film" }).check();
  await page.getByText("about 24 minutes left").waitFor();
  await page.getByRole("button", { name: "Start 0:05" }).click();
  await page.getByRole("timer").waitFor();
  await page.getByText("Done.").waitFor({ timeout: 15_000 });
  await page.getByRole("button", { name: "The roll is exposed" }).click();
  await page.getByText(/^Exposed \d{4}-\d\d-\d\d, waiting for the film/).waitFor();
  // Days later, on another page.
  await page.goto(address(`inspection.html?i=${key}`));
  const row = page.locator("li", { has: page.getByRole("link", { name: "Test roll: light and evenness" }) });
  await row.getByText(/waiting for the film/).waitFor();
  await row.getByRole("link").click();
  await page.getByRole("link", { name: "Photo of a strip" }).click();

  const leak = truth("b_03.jpg");
  await page.locator("#strip-file").setInputFiles(path("b_03.jpg"));
  await page.locator(".cornered").waitFor();
  await pick(page, "On the photo the strip lies with", leak.inputs.display.replaceAll("_", "-"));
  await drag(page, leak.inputs.corners, await shown(page));
  await page.getByRole("button", { name: "Read the frame" }).click();
  await page.getByText("On this camera: hinge seal.").waitFor({ timeout: 30_000 });
  // The corners as they were taken, at the film's edges, are drawn beside those that were put.
  await page.locator(".gate-taken").waitFor();
  const { roll, told } = await kept(page, key, (one) => one.frames.length === 1);
  assert.deepEqual([told.frames[0].call, told.frames[0].side, told.frames[0].place], ["light", "right", "hinge-seal"]);
  assert.ok(Math.abs(roll.frames[0].peak_density - leak.truth.peak_density) < 0.25, `${roll.frames[0].peak_density}`);
  assert.equal(roll.frames[0].photo, "");
  assert.equal((await record(page, key)).photos.length, 0);

  await page.getByRole("link", { name: "Map, drawing and all frames" }).click();
  await page.getByRole("img", { name: "Density above the film's base" }).waitFor();
  const back = page.getByRole("img", { name: "The open back" });
  const described = async () => page.locator(`#${await back.getAttribute("aria-describedby")}`).innerHTML();
  assert.match(await described(), /hinge seal: a test roll points here/);
  const ring = await page.locator(".m-suspected").boundingBox();
  const body = await back.boundingBox();
  assert.ok(ring && body && ring.x > body.x + body.width * 0.55, "the mark stands at the right, where the hinge is");
  // Said otherwise how the strip lies, the answer goes to the other side.
  await page.getByText("How the strip lies").click();
  await pick(page, "On the photo of this strip", "picture-upright");
  await page.getByText("On this camera: latch-side seal.").waitFor();
  assert.match(await described(), /latch-side seal: a test roll points here/);
  await page.goto(address(`inspection.html?i=${key}`));
  await page.getByText("It spoils film.").first().waitFor();
  await page.goto(address(`sheet.html?i=${key}`));
  await page.locator(".sheet .m-suspected").waitFor();
  assert.match(await page.locator(".sheet").innerText(), /Test roll[\s\S]*latch-side seal/);
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth), false);
}, { timeout: 240_000 });

onPhone("corners are walked with the keyboard; clean film is dark; a burnt-out table is said", async ({ page }) => {
  const key = await camera(page, "cloth", /Single-lens/);
  await page.goto(address(`strip.html?i=${key}`));
  const clean = truth("b_00.jpg");
  await page.locator("#strip-file").setInputFiles(path("b_00.jpg"));
  await page.locator(".cornered").waitFor();
  const size = await shown(page);
  for (const [i, [x, y]] of clean.inputs.corners.entries()) {
    const corner = page.getByRole("button", { name: new RegExp(`^Corner ${i + 1},`) });
    await corner.focus();
    await page.locator(".glass").waitFor();
    for (const [axis, wanted] of /** @type {const} */ ([["cx", (100 * x) / size.width], ["cy", (100 * y) / size.height]])) {
      const at = Number(await page.locator(".corner-ring").nth(i).getAttribute(axis));
      const steps = Math.round(wanted - (100 * at) / (axis === "cx" ? size.width : size.height));
      for (let n = 0; n < Math.abs(steps); n += 1) {
        await page.keyboard.press(axis === "cx" ? (steps > 0 ? "ArrowRight" : "ArrowLeft") : steps > 0 ? "ArrowDown" : "ArrowUp");
      }
    }
    const left = Number(await page.locator(".corner-ring").nth(i).getAttribute("cx"));
    assert.ok(Math.abs(left - x) < 0.006 * size.width, `corner ${i + 1}: ${left} for ${x}`);
  }
  await page.getByText("Keep the picture as evidence").click();
  await page.getByRole("button", { name: "Read the frame" }).click();
  await page.getByText("no light on the film").first().waitFor({ timeout: 30_000 });
  const { roll } = await kept(page, key, (one) => one.frames.length === 1);
  assert.ok(roll.frames[0].photo !== "" && (await record(page, key)).photos.length === 1);
  // Burnt out, the photo says what to do, and no light is claimed.
  await page.locator("#strip-file").setInputFiles(path("b_14.jpg"));
  await drag(page, truth("b_14.jpg").inputs.corners, await shown(page));
  await page.getByRole("button", { name: "Read the frame" }).click();
  await page.getByText("burnt out to white").first().waitFor({ timeout: 30_000 });
  // Crossed corners are refused with a sentence.
  const [a, b, c, d] = clean.inputs.corners;
  await drag(page, [b, a, c, d], await shown(page));
  await page.getByRole("button", { name: "Read the frame" }).click();
  await page.getByText("must go round it").waitFor({ timeout: 30_000 });
  // Neither of the two is kept.
  assert.equal((await record(page, key)).test_roll.frames.length, 1);
}, { timeout: 240_000 });

onPhone("a wall with its bracket and the camera turned gives the shutter's own taper within its doubt", async ({ page }) => {
  const key = await camera(page, "cloth", /Single-lens/);
  await page.goto(address(`strip.html?i=${key}&of=wall`));
  const wall = TRUTH.evenness[0];
  for (const [slot, name] of [["main", "main"], ["minus", "minus1"], ["plus", "plus1"], ["turned", "rotated180"]]) {
    await pick(page, "Of the wall's photos", slot ?? "");
    await page.locator("#strip-file").setInputFiles(path(wall.files[name ?? ""]));
    await page.waitForFunction((n) => document.querySelectorAll("input[name=slot] + span small").length === 4 && [...document.querySelectorAll("input[name=slot]:checked + span small")].some((one) => one.textContent === n), "chosen");
    await drag(page, wall.inputs.corners[name ?? ""], await shown(page));
  }
  await pick(page, "Exposed at the marked time", "1\\/1000");
  await page.getByRole("button", { name: "Work the wall out" }).click();
  await page.getByText("The wall at 1/1000").first().waitFor({ timeout: 60_000 });
  const { roll, told } = await kept(page, key, (one) => one.walls.length === 1);
  const { taper_stops, standard_uncertainty_stops, wall_stops } = roll.walls[0];
  assert.ok(Math.abs(taper_stops - wall.truth.taper) < Math.max(0.15, 2 * standard_uncertainty_stops), `${taper_stops} for ${wall.truth.taper}`);
  assert.ok(wall_stops !== null && told.walls[0].mark === "1/1000");
  await page.getByRole("link", { name: "Map, drawing and all frames" }).click();
  await page.getByRole("img", { name: "Exposure along the travel, stops" }).waitFor();
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth), false);
}, { timeout: 240_000 });
