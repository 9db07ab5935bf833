/**
 * The whole way with nothing but the keyboard: a new camera, a finding, a reference, a level, the sheet. Not here: the same by
 * touch (`flows.test.mjs`).
 */

import assert from "node:assert/strict";
import { address, onPhone } from "./support.mjs";

/**
 * Goes on by Tab until the control that was meant has the focus.
 *
 * @param {import("playwright-core").Page} page
 * @param {import("playwright-core").Locator} control
 */
async function reach(page, control) {
  await control.first().waitFor();
  for (let i = 0; i < 150; i += 1) {
    if (await control.first().evaluate((one) => one === document.activeElement)) {
      return;
    }
    await page.keyboard.press("Tab");
  }
  assert.fail(`no Tab leads to ${control}`);
}

/**
 * @param {import("playwright-core").Page} page
 * @param {import("playwright-core").Locator} control
 */
async function enter(page, control) {
  await reach(page, control);
  await page.keyboard.press("Enter");
}

onPhone("a camera is checked with the keyboard alone", async ({ page }) => {
  await page.goto(address("index.html"));
  await enter(page, page.getByRole("link", { name: "New camera" }));
  await enter(page, page.getByRole("button", { name: /Folding/ }));
  await reach(page, page.getByLabel("Maker"));
  await page.keyboard.type("Osk");
  await enter(page, page.getByRole("link", { name: "To the round" }));
  await enter(page, page.getByRole("link", { name: /Begin the round/ }));
  const point = page.locator(".point").first();
  await reach(page, point.getByRole("radio", { name: "not checked" }));
  await page.keyboard.press("ArrowRight");
  await point.locator("input[type=radio]:checked").waitFor({ state: "attached" });
  await page.waitForFunction(() => {
    const chosen = /** @type {HTMLInputElement | null} */ (document.querySelector(".point input[type=radio]:checked"));
    return chosen?.value === "sound";
  });
  const key = new URL(page.url()).searchParams.get("i");
  await page.goto(address(`meter.html?i=${key}`));
  await enter(page, page.getByRole("link", { name: "Choose the reference" }));
  await page.getByRole("radio").first().waitFor();
  await reach(page, page.getByRole("radio").first());
  await page.keyboard.press("Space");
  await enter(page, page.getByRole("link", { name: "Enter levels" }));
  await page.locator(".preview").waitFor();
  await page.goto(address(`reference.html?i=${key}`));
  await page.locator("input[type=radio]:checked").first().waitFor({ state: "attached" });
  await reach(page, page.locator("input[type=radio]:checked").first());
  await page.keyboard.press("ArrowDown");
  await page.keyboard.press("ArrowDown");
  await page.waitForFunction(() => {
    const chosen = /** @type {HTMLInputElement | null} */ (document.querySelector("input[type=radio]:checked"));
    return chosen?.value === "meter";
  });
  await enter(page, page.getByRole("link", { name: "Enter levels" }));
  await page.locator(".preview .big").waitFor();
  await enter(page, page.getByRole("button", { name: "Keep and next" }));
  await page.getByText("Level 1 kept.").waitFor();
  await enter(page, page.getByRole("link", { name: "Done" }));
  await page.locator(".call").first().waitFor();
  await page.goto(address(`sheet.html?i=${key}`));
  await reach(page, page.getByRole("button", { name: "Print" }));
  assert.match(await page.locator(".sheet").innerText(), /Osk/);
});
