/**
 * What a person does with the page, from one end to the other, on a phone-sized screen, with the page closed in the middle of
 * it. Not here: the store and the bench below the pages (`store.test.mjs`, `bench.test.mjs`); accessibility (`access.test.mjs`).
 */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { address, onPhone } from "./support.mjs";

/** A picture of one pixel. */
const PIXEL = Buffer.from(
  "iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAYAAAAfFcSJAAAADUlEQVR42mNk+M9QDwADhgGAWjR9awAAAABJRU5ErkJggg==",
  "base64",
);

/**
 * @param {import("playwright-core").Page} page
 * @param {RegExp} [kind]
 */
async function begin(page, kind = /Rangefinder/) {
  await page.goto(address("index.html"));
  await page.getByRole("link", { name: "New camera" }).click();
  await page.getByRole("button", { name: kind }).click();
  await page.getByLabel("Maker").waitFor();
  return new URL(page.url()).searchParams.get("i") ?? "";
}

onPhone("the demo bench shows its cameras, each with its outcome and reasons", async ({ page }) => {
  await page.goto(address("index.html"));
  await page.getByRole("button", { name: "Load the demo bench" }).click();
  await page.locator(".camera").nth(4).waitFor();
  assert.equal(await page.locator(".camera").count(), 5);
  const said = await page.locator("main").innerText();
  for (const words of ["ready", "ready with limits", "wants service", "not yet known"]) {
    assert.ok(said.includes(words), words);
  }
  await page.reload();
  await page.locator(".camera").nth(4).waitFor();
});

onPhone("a new camera: what is typed is there after a reload at once", async ({ page }) => {
  await begin(page);
  await page.getByLabel("Maker").pressSequentially("Halden");
  await page.getByLabel("Model").fill("Probe");
  await page.reload();
  await page.getByLabel("Maker").waitFor();
  assert.equal(await page.getByLabel("Maker").inputValue(), "Halden");
  assert.equal(await page.getByLabel("Model").inputValue(), "Probe");
  await page.getByRole("radio", { name: /^Modern: 1\/60/ }).check();
  await page.getByRole("checkbox", { name: "1/2000" }).check();
  const another = page.getByLabel("Another mark").first();
  await another.fill("1/0");
  await another.press("Enter");
  await page.getByRole("alert").waitFor();
  assert.match(await page.getByRole("alert").innerText(), /1\/0/);
});

onPhone("the round: condition, note and picture stay, and what was not looked at stays not checked", async ({ page }) => {
  const key = await begin(page);
  await page.goto(address(`round.html?i=${key}&area=seals`));
  const point = page.locator(".point").first();
  await point.getByRole("radio", { name: "faulty" }).click();
  await point.getByLabel("Note").pressSequentially("black on the edge <script>");
  await page.reload();
  await point.getByLabel("Note").waitFor();
  assert.equal(await point.getByLabel("Note").inputValue(), "black on the edge <script>");
  assert.ok(await point.getByRole("radio", { name: "faulty" }).isChecked());
  assert.ok(await page.locator(".point").nth(1).getByRole("radio", { name: "not checked" }).isChecked());
  await point.locator("input[type=file]").setInputFiles({ name: "a.png", mimeType: "image/png", buffer: PIXEL });
  await point.locator("img").waitFor();
  await page.goto(address(`inspection.html?i=${key}`));
  await page.locator(".call-wants_service").first().waitFor();
});

onPhone("five levels by steppers give an error with its doubt, a call, and a sheet", async ({ page }) => {
  const key = await begin(page);
  await page.goto(address(`meter.html?i=${key}`));
  await page.getByRole("link", { name: "Choose the reference" }).click();
  await page.getByRole("radio", { name: /Another exposure meter/ }).click();
  await page.getByRole("link", { name: "Enter levels" }).click();
  await page.locator(".preview .big").waitFor();
  await page.locator("#light-time").selectOption("1/8");
  await page.locator("#own-time").selectOption("1/8");
  for (let n = 1; n <= 5; n += 1) {
    await page.getByRole("heading", { name: `Level ${n}`, exact: true }).waitFor();
    assert.match(await page.locator(".preview").innerText(), /over|under|no error/);
    await page.getByRole("button", { name: "Keep and next" }).click();
    await page.getByText(`Level ${n} kept.`).waitFor();
    if (n === 2) {
      await page.reload();
      await page.locator(".preview .big").waitFor();
    }
    // Two whole stops on, both of them: the dials have between-mark places.
    for (const dial of ["#light-time", "#own-time"]) {
      await page.locator(dial).selectOption(["1/15", "1/30", "1/60", "1/125", "1/250"][n - 1] ?? "1/250");
    }
  }
  await page.goto(address(`meter.html?i=${key}`));
  await page.locator(".call").first().waitFor();
  const said = await page.locator("main").innerText();
  assert.match(said, /no error/);
  assert.match(said, /likely to be within/);
  assert.equal(await page.getByRole("heading", { name: "5 levels" }).count(), 1);
  await page.getByRole("button", { name: "Undo" }).click();
  await page.getByRole("heading", { name: "4 levels" }).waitFor();
  await page.goto(address(`sheet.html?i=${key}`));
  await page.locator(".sheet").getByText(/lampblack \d/).waitFor();
  assert.match(await page.locator(".sheet").innerText(), /Not checked|not checked/i);
  for (const format of ["A4", "Letter"]) {
    const pdf = (await page.pdf({ format })).toString("latin1");
    assert.equal((pdf.match(/\/Type\s*\/Page[^s]/g) ?? []).length, 1, `${format} has one page`);
  }
});

onPhone("a file goes out and comes in again as the same, changed ones stand beside", async ({ page }) => {
  const key = await begin(page);
  await page.getByLabel("Maker").fill("Osk");
  await page.goto(address(`file.html?i=${key}`));
  const button = page.getByRole("button", { name: "Hand on the file" });
  await button.waitFor();
  const [download] = await Promise.all([page.waitForEvent("download"), button.click()]);
  const text = readFileSync(await download.path(), "utf8");
  const give = (/** @type {string} */ content) =>
    page.locator("#file").setInputFiles({ name: "in.json", mimeType: "application/json", buffer: Buffer.from(content) });
  await give(text);
  await page.getByText("the same is here already").waitFor();
  await give(JSON.stringify({ ...JSON.parse(text), notes: "other words" }));
  await page.getByText("another version is here").waitFor();
  await page.getByRole("button", { name: "Take in" }).click();
  await page.getByText("One camera was taken in.").waitFor();
  await give('{"format":');
  await page.getByRole("alert").waitFor();
  assert.match(await page.getByRole("alert").innerText(), /cut off/);
  await page.goto(address("index.html"));
  await page.locator(".camera").nth(1).waitFor();
  assert.equal(await page.locator(".camera").count(), 2);
});

onPhone("the consistency check and the bin, by keyboard alone", async ({ page }) => {
  const key = await begin(page);
  await page.goto(address(`consistency.html?i=${key}`));
  await page.getByRole("button", { name: "Keep this setting" }).focus();
  await page.keyboard.press("Enter");
  await page.getByText("Setting 1 kept.").waitFor();
  await page.goto(address(`inspection.html?i=${key}`));
  await page.getByRole("button", { name: "Put it into the bin" }).focus();
  await page.keyboard.press("Enter");
  await page.getByText("is in the bin and stays").waitFor();
  assert.equal(await page.locator(".camera").count(), 0);
  await page.getByRole("button", { name: "Undo" }).focus();
  await page.keyboard.press("Enter");
  await page.locator(".camera").waitFor();
});
