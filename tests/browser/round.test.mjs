/**
 * The round as a whole: its steps, the way from one to the next, the order that is preferred, what is seen while firing.
 * Not here: the points themselves (`flows.test.mjs`); listening (`listen.test.mjs`).
 */

import assert from "node:assert/strict";
import { address, onPhone } from "./support.mjs";
import { camera, record, signal, SOUND_FILE } from "./takes.mjs";

/** @param {import("playwright-core").Page} page */
async function names(page) {
  await page.locator(".steps a").first().waitFor();
  return page.locator(".steps a").allInnerTexts();
}

onPhone("step by step through the round, left and taken up again", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`inspection.html?i=${key}`));
  await page.getByRole("link", { name: "Step by step" }).click();
  await page.getByRole("link", { name: "Begin: Who it is" }).click();
  await page.getByLabel("Maker").fill("Halden");
  await page.getByRole("navigation", { name: "The round" }).getByText("Step 1 of 9").waitFor();
  await page.getByRole("link", { name: "Next: Power and identity" }).click();
  await page.getByText(/^Step 2 of 9/).waitFor();
  await page.getByRole("link", { name: "Next: Seals and doors" }).click();
  await page.getByText(/^Step 3 of 9/).click();
  await page.getByText("1 of 9").waitFor();
  assert.match(await page.locator(".steps li").first().innerText(), /Who it is[^]*done/);
  // What was left comes again after the rest.
  await page.getByRole("link", { name: "Go on: Power and identity" }).waitFor();
});

onPhone("the order is changed by keyboard, a step left out, and both are there for the next camera", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`steps.html?i=${key}`));
  assert.deepEqual((await names(page)).slice(0, 3), ["Who it is", "Power and identity", "Seals and doors"]);
  await page.getByRole("button", { name: "Change the order" }).click();
  await page.getByRole("button", { name: "Seals and doors: up" }).focus();
  await page.keyboard.press("Enter");
  await page.keyboard.press("Enter");
  await page.getByRole("checkbox", { name: "Power and identity" }).uncheck();
  await page.getByRole("button", { name: "That is it" }).click();
  assert.deepEqual((await names(page)).slice(0, 3), ["Seals and doors", "Who it is", "Lens"]);
  await page.getByText("One step is left out.").waitFor();
  const other = await camera(page, "metal");
  await page.goto(address(`steps.html?i=${other}`));
  await page.getByRole("link", { name: "Begin: Seals and doors" }).waitFor();
  assert.equal((await names(page)).length, 8);
  await page.getByRole("button", { name: "Change the order" }).click();
  await page.getByRole("button", { name: "The usual order" }).click();
  await page.getByRole("button", { name: "That is it" }).click();
  assert.equal((await names(page)).length, 9);
});

onPhone("what was seen while firing is asked for after the take, one tap each", async ({ page }) => {
  const key = await camera(page, "metal");
  await page.goto(address(`listen.html?i=${key}&r=marked-times`));
  await page.locator("#sound-file").setInputFiles({ name: SOUND_FILE, mimeType: "audio/wav", buffer: signal(SOUND_FILE) });
  await page.getByText("While you fired").waitFor();
  await page.getByRole("button", { name: /^Sound ?: film advance/ }).click();
  await page.getByRole("button", { name: /^Sound ?: film advance/ }).waitFor({ state: "detached" });
  const found = (await record(page, key)).findings.find((/** @type {any} */ one) => one.point === "advance");
  assert.equal(found.condition, "sound");
  assert.match(await page.getByRole("link", { name: /^Something is off ?: frame counter/ }).getAttribute("href") ?? "", /round\.html\?.*area=body#counter/);
  await page.getByRole("link", { name: /^Next: / }).click();
  await page.getByText(/^Step \d of 9/).waitFor();
});
