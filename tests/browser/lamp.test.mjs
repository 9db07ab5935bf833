/**
 * The screen as a lamp: at several pixel ratios every step has exactly the promised share of white device pixels, counted in a
 * screenshot; and a tap, the keys and Escape do what they should.
 * Not here: what a step is worth (`lights.test.mjs`).
 */

import assert from "node:assert/strict";
import { address, onPhone } from "./support.mjs";
import { camera } from "./takes.mjs";

const STEPS = ["1", "1/2", "1/4", "1/8", "1/16", "1/32", "1/64"];

/** @param {import("playwright-core").Page} page Counts the pixels of the lit field in a screenshot. */
async function shares(page) {
  const png = (await page.screenshot({ scale: "device" })).toString("base64");
  return page.evaluate(async (text) => {
    const bytes = Uint8Array.from(atob(text), (letter) => letter.charCodeAt(0));
    const bitmap = await createImageBitmap(new Blob([bytes], { type: "image/png" }));
    const canvas = new OffscreenCanvas(bitmap.width, bitmap.height);
    const drawing = /** @type {OffscreenCanvasRenderingContext2D} */ (canvas.getContext("2d"));
    drawing.drawImage(bitmap, 0, 0);
    const field = /** @type {HTMLCanvasElement} */ (document.querySelector(".lamp canvas"));
    const { data } = drawing.getImageData(0, 0, bitmap.width, bitmap.height);
    let [white, other] = [0, 0];
    for (let i = 0; i < data.length; i += 4) {
      const value = data[i] ?? 0;
      white += value === 255 ? 1 : 0;
      other += value !== 255 && value !== 0 ? 1 : 0;
    }
    return { white, other, field: Number(field.dataset.pixels), step: field.dataset.step };
  }, png);
}

for (const ratio of [1, 2, 2.625]) {
  onPhone(`every step has its share of white device pixels at a pixel ratio of ${ratio}`, async ({ page }) => {
    const key = await camera(page, "cloth");
    await page.goto(address(`lamp.html?i=${key}`));
    await page.getByRole("button", { name: "Show this step" }).click();
    await page.locator(".lamp canvas[data-step]").waitFor();
    for (const [n, step] of STEPS.entries()) {
      const found = await shares(page);
      assert.deepEqual([found.step, found.white, found.other], [step, found.field / 2 ** n, 0], `${step} at ${ratio}`);
      await page.keyboard.press("ArrowRight");
    }
    await page.keyboard.press("Escape");
    await page.locator(".lamp").waitFor({ state: "detached" });
  }, { context: { deviceScaleFactor: ratio } });
}

onPhone("a tap goes a step darker, the lamp goes out, and the step is there to be used", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`lamp.html?i=${key}`));
  await page.getByRole("button", { name: "Show this step" }).click();
  await page.locator('.lamp canvas[data-step="1"]').waitFor();
  await page.locator(".lamp").click();
  await page.locator('.lamp canvas[data-step="1/2"]').waitFor();
  await page.keyboard.press("Enter");
  await page.locator(".lamp").waitFor({ state: "detached" });
  await page.getByRole("region", { name: "The light of this step" }).getByText("1 stop down").waitFor();
});

onPhone("hands free it goes through the steps by itself, tells the next one, and goes out after the last", async ({ page }) => {
  await page.addInitScript(() => {
    globalThis.said = [];
    speechSynthesis.speak = (words) => { globalThis.said.push(words.text); words.onend?.(new SpeechSynthesisEvent("end", { utterance: words })); };
  });
  const key = await camera(page, "cloth");
  await page.goto(address(`lamp.html?i=${key}`));
  await page.getByRole("radio", { name: "every 10 s" }).check();
  await page.getByRole("checkbox", { name: /Say aloud/ }).check();
  await page.getByRole("radio", { name: /5 stops down/ }).check();
  await page.clock.install();
  await page.getByRole("button", { name: "Show this step" }).click();
  await page.locator('.lamp canvas[data-step="1/32"]').waitFor();
  await page.clock.runFor(11_000);
  await page.locator('.lamp canvas[data-step="1/64"]').waitFor();
  await page.clock.runFor(11_000);
  await page.locator(".lamp").waitFor({ state: "detached" });
  assert.deepEqual(await page.evaluate(() => globalThis.said), ["Next step in 5 seconds.", "That is the last step. Out in 5 seconds."]);
});

onPhone("a plain white field has no black pixel in it", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`lamp.html?i=${key}`));
  await page.getByRole("button", { name: "Plain white field" }).click();
  await page.locator(".lamp canvas[data-step]").waitFor();
  const found = await shares(page);
  assert.deepEqual([found.white, found.other], [found.field, 0]);
});
