/**
 * What a camera is handed on with: the texts, the sheet on paper, its code and fingerprint, the camera before and after its service;
 * and what film gets. Walked with the demo's cameras, from the list on.
 * Not here: how the texts read word for word (`tests/golden`); the list itself (`list.test.mjs`).
 */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import jsqr from "jsqr";
import { until } from "./patience.mjs";
import { address, onPhone } from "./support.mjs";

const read = /** @type {any} */ (jsqr).default ?? jsqr;

/** Loads the demo and opens a camera. @param {import("playwright-core").Page} page @param {string} maker @returns {Promise<string>} Its key. */
async function demo(page, maker) {
  await page.goto(address("index.html"));
  await page.getByRole("button", { name: "Load the demo bench" }).click();
  await page.locator(".camera").nth(4).waitFor();
  await page.locator(".camera a", { hasText: maker }).first().click();
  await page.getByRole("link", { name: "Words for the listing" }).waitFor();
  return new URL(page.url()).searchParams.get("i") ?? "";
}

/** What is kept of a camera. @param {import("playwright-core").Page} page @param {string} key */
const kept = (page, key) => page.evaluate(async (/** @type {string} */ of) => (await (await load("store/inspections.js")).get(of)).inspection, key);

/** Waits until the store says so. @param {import("playwright-core").Page} page @param {string} key @param {(inspection: any) => boolean} holds */
const keeps = async (page, key, holds) => assert.ok(holds(await until(() => kept(page, key), holds)), `the store does not come to ${holds}`);

onPhone("what film gets: each film's times, one film in hand, an own latitude, and what cannot be", async ({ page }) => {
  const key = await demo(page, "Corvane");
  await page.getByRole("link", { name: "What film gets" }).click();
  await page.getByText("Reversal: safe at 1/4, 1/8, 1/15, 1/30, 1/60, 1/125, 1/250, 1/500 and 1/1000; give 1/3 stop less at 1 s and 1/2.").first().waitFor();
  assert.equal(await page.getByRole("img", { name: /What film gets/ }).count(), 2);
  await page.locator(".choice-colour_negative input").check();
  await page.locator(".said li").nth(1).waitFor();
  await page.waitForFunction(() => document.querySelectorAll(".said li").length === 2);
  assert.match(await page.locator(".said").first().innerText(), /^Colour negative: safe/);
  await page.getByText("Own latitude").click();
  await page.getByLabel("Forgives under, in stops").fill("0,3");
  await page.getByLabel("Forgives over, in stops").fill("0.3");
  await page.getByText(/Colour negative: give/).first().waitFor();
  await page.getByLabel("Forgives over, in stops").fill("-1");
  await page.getByRole("alert").waitFor();
  assert.match(await page.getByRole("alert").innerText(), /between 0 and 10 stops/);
  await keeps(page, key, (one) => one.film.over === "0.3" && one.film.kind === "colour_negative");
  await page.getByText("Every figure").first().click();
  await page.getByText("1/1000", { exact: true }).first().waitFor();
});

onPhone("a text is changed, stays changed, and is marked where something came in since", async ({ page }) => {
  const key = await demo(page, "Halden");
  await page.getByRole("link", { name: "Words for the listing" }).click();
  const line = page.getByLabel("Text: one line");
  await line.waitFor();
  assert.match(await line.inputValue(), /^Halden 35 R, serial 41 207.*11 of 11 marked times within/);
  await line.fill("A fine camera, checked.");
  await keeps(page, key, (one) => one.texts[0]?.text === "A fine camera, checked." && one.texts[0].made_from.includes("11 of 11"));
  await page.reload();
  await line.waitFor();
  assert.equal(await line.inputValue(), "A fine camera, checked.");
  await page.locator("#line").getByText("Changed by you.", { exact: true }).waitFor();
  // Something is found afterwards: the own text stands, and says that it is of yesterday.
  await page.goto(address(`round.html?i=${key}&area=seals`));
  await page.locator("#hinge-seal .choice-failed input").check();
  await keeps(page, key, (one) => one.result.outcome === "wants_service");
  await page.goto(address(`words.html?i=${key}`));
  await page.locator("#line").getByText("something was found or measured since").waitFor();
  assert.equal(await line.inputValue(), "A fine camera, checked.");
  assert.match(await page.getByLabel("Text: for the service bench").inputValue(), /Hinge seal: [^]*Found failed/);
  await page.getByRole("button", { name: /^Keep mine ?: One line/ }).click();
  await page.locator("#line").getByText("Changed by you.", { exact: true }).waitFor();
  await page.getByRole("button", { name: /^Put together anew ?: One line/ }).click();
  await page.locator("#line").getByText("As it was put together.").waitFor();
  assert.match(await line.inputValue(), /wants service/);
  // Every sentence leads to what it rests on.
  await page.getByText("Where each sentence comes from").click();
  await page.locator("#full .said a", { hasText: "hinge seal" }).first().click();
  await page.locator("#hinge-seal").waitFor();
});

onPhone("the camera before and after its service, and inspected again with one press", async ({ page }) => {
  const key = await demo(page, "Corvane");
  await page.getByRole("link", { name: "Before and after" }).click();
  await page.getByText("From wants service to ready with limits").waitFor();
  const rows = await page.locator(".pairs li").allInnerTexts();
  assert.ok(rows.some((row) => /1\/1000[^]*changed[^]*0\.81 under[^]*0\.03 under[^]*0\.77 stop/.test(row)), rows.join("\n"));
  assert.ok(rows.some((row) => /Meter[^]*no change beyond doubt/.test(row)));
  await page.getByRole("button", { name: "Inspect it again" }).click();
  await page.getByText("not yet known").first().waitFor();
  const again = new URL(page.url()).searchParams.get("i") ?? "";
  assert.notEqual(again, key);
  const fresh = await kept(page, again);
  assert.deepEqual([fresh.camera.serial, fresh.findings.length, fresh.shutter.takes.length], ["8831", 0, 0]);
  await page.getByText("2 others").waitFor();
});

/** The QR code of the sheet as a picture, eight pixels a square. @param {import("playwright-core").Page} page */
async function codeOf(page) {
  const { side, boxes } = await page.locator(".label svg").evaluate((svg) => ({
    side: /** @type {SVGSVGElement} */ (svg).viewBox.baseVal.width,
    boxes: [...svg.querySelectorAll("path")].map((path) => (path.getAttribute("d") ?? "").match(/[\d.]+/g)?.map(Number) ?? []),
  }));
  const pixels = side * 8;
  const picture = new Uint8ClampedArray(pixels * pixels * 4).fill(255);
  for (const [left = 0, top = 0, right = 0, bottom = 0] of boxes) {
    for (let y = top * 8; y < bottom * 8; y += 1) {
      for (let x = left * 8; x < right * 8; x += 1) {
        picture.fill(0, (y * pixels + x) * 4, (y * pixels + x) * 4 + 3);
      }
    }
  }
  return read(picture, pixels, pixels)?.data ?? "";
}

onPhone("from the first press to paper: two pages at most, and code, fingerprint and file agree", async ({ page }) => {
  const key = await demo(page, "Brindle");
  await page.getByRole("link", { name: "Sheet, to print" }).click();
  await page.locator(".sheet .label").waitFor();
  const { fingerprint } = (await kept(page, key)).result;
  assert.match(fingerprint, /^[0-9a-f]{16}$/);
  assert.ok((await page.locator(".sheet").innerText()).includes(fingerprint));
  const said = await codeOf(page);
  assert.ok(said.startsWith("Brindle Wayfarer C, serial B 1193") && said.endsWith(fingerprint), said);
  // Everything bad, everything with a long note: still two pages.
  await page.evaluate(async (/** @type {string} */ of) => {
    const { open } = await load("store/edit.js");
    const desk = await open(of);
    const note = "seen under a lamp, from both sides, and once more after the door had been opened and shut ten times";
    await desk.apply((/** @type {any} */ draft) => {
      for (const finding of draft.findings) {
        [finding.condition, finding.note] = ["faulty", note];
      }
    }, "everything bad");
    desk.close();
  }, key);
  await page.reload();
  await page.locator(".sheet .label").waitFor();
  for (const format of ["A4", "Letter"]) {
    const paper = (await page.pdf({ format, printBackground: true })).toString("latin1");
    const pages = paper.match(/\/Type\s*\/Page[^s]/g)?.length ?? 0;
    assert.ok(pages >= 1 && pages <= 2, `${pages} pages of ${format}`);
  }
  // The file that is handed on carries the same fingerprint as the sheet.
  const now = (await kept(page, key)).result.fingerprint;
  assert.notEqual(now, fingerprint);
  await page.goto(address(`file.html?i=${key}`));
  const [download] = await Promise.all([page.waitForEvent("download"), page.getByRole("button", { name: "Hand on the file" }).click()]);
  assert.equal(JSON.parse(readFileSync(await download.path(), "utf8")).result.fingerprint, now);
});

onPhone("a picture stands on the sheet where the person wants it", async ({ page }) => {
  const key = await demo(page, "Halden");
  await page.goto(address(`round.html?i=${key}&area=seals`));
  const png = Buffer.from("iVBORw0KGgoAAAANSUhEUgAAAAEAAAABCAIAAACQd1PeAAAADElEQVR4nGNgYGAAAAAEAAH2FzhVAAAAAElFTkSuQmCC", "base64");
  await page.locator("#hinge-seal summary", { hasText: "Note or picture" }).click();
  await page.locator("#hinge-seal input[type=file]").setInputFiles({ name: "seal.png", mimeType: "image/png", buffer: png });
  await keeps(page, key, (one) => one.photos.length === 1);
  await page.goto(address(`sheet.html?i=${key}`));
  await page.getByText("Pictures on the sheet: 0 of 1").click();
  assert.equal(await page.locator(".sheet img").count(), 0);
  await page.getByRole("checkbox", { name: /On the sheet/ }).check();
  await page.locator(".sheet .kept-picture img").waitFor();
  assert.match(await page.locator(".sheet .kept-picture figcaption").innerText(), /Hinge seal/);
});
