/**
 * The seals on the open back, by finger and by lamp: tapped, walked with the keyboard, written into the round, printed on the
 * sheet; how long the loaded camera may lie.
 * Not here: what a look comes to (the crate `inspection`); the rules of access on every page (`access.test.mjs`).
 */

import assert from "node:assert/strict";
import { address, onPhone } from "./support.mjs";
import { camera } from "./takes.mjs";

/** A computed photo with its exposure data. */
const PAPER = new URL("../pictures/ideal_03.jpg", import.meta.url).pathname;

/** @param {import("playwright-core").Page} page @param {string} legend @param {string} key */
const pick = (page, legend, key) => page.getByRole("group", { name: legend }).locator(`.choice-${key} input`).check();

onPhone("a sticky seal is tapped on the drawing, and round, outcome and sheet know it", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`round.html?i=${key}&area=seals`));
  await page.getByRole("link", { name: "Seal by seal on the open back" }).click();
  const drawing = page.getByRole("img", { name: "The open back" });
  await drawing.waitFor();
  await page.getByRole("radio", { name: "4 hinge seal: not checked" }).waitFor({ state: "attached" });
  const box = await drawing.boundingBox();
  assert.ok(box && box.width <= 360 && box.width > 280);
  // The hinge is at the right: the seal lies between body and door.
  await page.mouse.click(box.x + box.width * 0.645, box.y + box.height * 0.72);
  await page.getByRole("heading", { name: "4 · hinge seal" }).waitFor();
  await pick(page, "Press it", "sticky");
  await pick(page, "On the edge", "strings");
  await page.getByText("Turned to tar").first().waitFor();
  await page.getByText("measure length and depth before cutting").waitFor();
  await page.getByLabel("Length, mm").fill("51,5");
  await page.getByLabel("Thickness, mm").fill("2");
  await page.getByText("51.5 mm long, 2 mm thick").waitFor();
  await page.getByText("takes fire from 12 °C").waitFor();
  await page.goto(address(`round.html?i=${key}&area=seals`));
  await page.locator("#hinge-seal .choice-failed input:checked").waitFor({ state: "attached" });
  await page.locator("#edge-residue .choice-failed input:checked").waitFor({ state: "attached" });
  // Said otherwise in the round, the difference is shown.
  await page.locator("#hinge-seal .choice-worn input").check();
  await page.locator("#hinge-seal .looks b").getByText("worn").waitFor();
  await page.goto(address(`seals.html?i=${key}`));
  await page.getByText("the careful look says failed, the round says worn").waitFor();
  await page.goto(address(`sheet.html?i=${key}`));
  await page.getByRole("img", { name: "The open back" }).waitFor();
  assert.equal(await page.locator(".sheet .m-place-bad").count(), 1);
});

onPhone("the drawing is walked with the keyboard, and each place says what it is", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`seals.html?i=${key}`));
  const first = page.getByRole("radio", { name: "1 door channel, top: not checked" });
  await first.focus();
  await page.keyboard.press("ArrowRight");
  await page.getByRole("heading", { name: "2 · door channel, bottom" }).waitFor();
  await page.getByRole("button", { name: "Next: latch-side seal" }).focus();
  await page.keyboard.press("Enter");
  await page.getByRole("heading", { name: "3 · latch-side seal" }).waitFor();
  await pick(page, "Press it", "flat");
  await pick(page, "On the edge", "none");
  await page.getByText("works, will not last").first().waitFor();
  await page.getByRole("radio", { name: "3 latch-side seal: worn" }).waitFor({ state: "attached" });
  // Read in one go: an answer that comes meanwhile draws anew, and the new drawing has another name.
  await page.waitForFunction(() => {
    const described = document.querySelector("svg[aria-describedby]")?.getAttribute("aria-describedby");
    return /hinge right.*latch-side seal: worn/.test(document.getElementById(described ?? "")?.innerHTML ?? "");
  });
  // The hinge at the other side turns the drawing, and the seal of the hinge with it.
  await page.getByText("Hinge: right").click();
  await pick(page, "Seen from behind", "left");
  await page.getByRole("radio", { name: "3 hinge seal: not checked" }).waitFor({ state: "attached" });
  await page.getByRole("radio", { name: "4 latch-side seal: worn" }).waitFor({ state: "attached" });
});

onPhone("light comes out, and how long the camera may lie", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`seals.html?i=${key}`));
  await page.getByRole("link", { name: "Lamp inside" }).click();
  await page.getByRole("button", { name: "two minutes from now" }).click();
  await page.getByText("until your eyes are used to the dark").waitFor();
  await pick(page, "With the lamp on", "light");
  await page.getByRole("radio", { name: "1 door channel, top: light comes out here" }).waitFor({ state: "attached" });
  await page.getByLabel("Light on the film, lux").fill("0.000001");
  await page.getByText("33 min", { exact: true }).waitFor();
  await page.locator("input[name=found-in][value=home]").check();
  await page.getByText("in the sun", { exact: true }).last().waitFor();
  await page.getByLabel("Lies, minutes").fill("30");
  await page.getByText("After 30 min the fog may show").waitFor();
  // From a photo of white paper: its light and its doubt go into the fields.
  await page.getByText("From a photo", { exact: true }).click();
  await page.locator("#paper-photo").setInputFiles(PAPER);
  await page.getByText(/lx ±[\d.]+ stop/).first().waitFor();
  const lux = Number(await page.getByLabel("Light on the film, lux").inputValue());
  assert.ok(lux > 0 && Number(await page.getByLabel("Doubt, stops").inputValue()) > 0.1, String(lux));
  await page.getByLabel("Light on the film, lux").fill("dim");
  await page.getByText("must be a number such as 12.5").waitFor();
  await page.goto(address(`inspection.html?i=${key}`));
  await page.getByText("light comes out: door channel, top").waitFor();
  assert.equal(await page.evaluate(() => document.documentElement.scrollWidth > innerWidth), false);
});

onPhone("two long exposures: the spot is marked, and a pair of different sizes refused", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`tight.html?i=${key}`));
  await page.getByText("Or with two long exposures").click();
  // Photos made in the page: dark grain, and a spot in one of them.
  const photo = async (/** @type {boolean} */ lit, /** @type {number} */ width) => {
    const bytes = await page.evaluate(async ([lit, width]) => {
      const canvas = new OffscreenCanvas(Number(width), 600);
      const context = /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext("2d"));
      const picture = context.createImageData(canvas.width, 600);
      let seed = lit ? 7 : 3;
      for (let i = 0; i < picture.data.length; i += 4) {
        seed = (seed * 48271) % 2147483647;
        picture.data.fill(8 + (seed % 5), i, i + 3);
        picture.data[i + 3] = 255;
      }
      context.putImageData(picture, 0, 0);
      if (lit) {
        context.fillStyle = "#888";
        context.fillRect(500, 200, 20, 20);
      }
      return [...new Uint8Array(await (await canvas.convertToBlob({ type: "image/png" })).arrayBuffer())];
    }, [lit, width]);
    return { name: "photo.png", mimeType: "image/png", buffer: Buffer.from(bytes) };
  };
  await page.locator("#lamp-off").setInputFiles(await photo(false, 800));
  await page.locator("#lamp-on").setInputFiles(await photo(true, 640));
  await page.getByText("Both photos must be of the same size").waitFor();
  await page.locator("#lamp-on").setInputFiles(await photo(true, 800));
  await page.locator("b", { hasText: "One spot: light comes out here." }).waitFor();
  const ring = page.locator(".glow .m-ring");
  assert.equal(await ring.count(), 1);
  assert.ok(Math.abs(Number(await ring.getAttribute("cx")) - 510) < 6);
  await page.locator("#lamp-on").setInputFiles(await photo(false, 800));
  await page.locator("b", { hasText: "No spot stands out of the noise" }).waitFor();
});
