/**
 * Files that are no good, and odd ones that are, chosen on the page for files: what the person is told there, and that nothing
 * is written and nothing is lost. Not here: the words themselves, which `tests/records` has; the bench without a page
 * (`bench.test.mjs`).
 */

import assert from "node:assert/strict";
import { mkdtempSync, readdirSync, readFileSync, rmSync, truncateSync, writeFileSync } from "node:fs";
import { tmpdir } from "node:os";
import { join } from "node:path";
import { address, onPhone } from "./support.mjs";

const RECORDS = new URL("../records/", import.meta.url);
/** Every file of a folder of the kept records. @param {string} folder */
const files = (folder) =>
  readdirSync(new URL(`${folder}/`, RECORDS)).sort().map((name) => ({ name, text: readFileSync(new URL(`${folder}/${name}`, RECORDS), "utf8") }));
const SOUND = readFileSync(new URL("v1/halden.json", RECORDS), "utf8");
/** A sound one again, in which the light and the readings are settings of dials. */
const DIALS = readFileSync(new URL("v1/every_way.json", RECORDS), "utf8");

/** What else a file can be, with what the sentence on the page must name. @type {[name: string, text: string, said: RegExp][]} */
const MADE = [
  ["empty", "", /^The file is empty\.$/],
  ["blank", "\n \n", /^The file is empty\.$/],
  ["cut off", SOUND.slice(0, 900), /^The file ends too early \(line \d+\): it was cut off, so take it again/],
  ["200,000 lists deep", `{"a":${"[".repeat(200_000)}`, /^The file is nested more than 64 levels deep/],
  ["200,000 objects deep", '{"a":'.repeat(200_000) + "1" + "}".repeat(200_000), /^The file is nested more than 64 levels deep/],
  ["a newer version", SOUND.replace('"version": 1', '"version": 7'), /^The file is of version 7, and this program reads up to version \d: update the program; nothing was changed\.$/],
  ["a key twice", SOUND.replace('"maker"', '"maker": "x", "maker"'), /^The file cannot be read at camera\.maker .* the key "maker" stands twice/],
  ["film speed 0", DIALS.replace('"film_speed": "100"', '"film_speed": "0"'), /film speed .*"0" was given\.$/],
  ["time 1/0", DIALS.replace(/"time": "1\/\d+"/, '"time": "1/0"'), /time .*"1\/0" was given\.$/],
  ["f-number −2", DIALS.replace(/"f_number": "[\d.]+"/, '"f_number": "-2"'), /f-number .*"-2" was given\.$/],
];

/** Puts one camera on the bench, by the page, and goes to the page for files. @param {import("playwright-core").Page} page */
async function begin(page) {
  await page.goto(address("new.html"));
  await page.getByRole("button", { name: /Rangefinder/ }).click();
  await page.getByLabel("Maker").fill("Corvane");
  await page.goto(address("file.html"));
  await page.getByRole("button", { name: "Back up one camera" }).waitFor();
}

/** @param {import("playwright-core").Page} page Everything that is kept, to the letter. */
const kept = (page) =>
  page.evaluate(async () => {
    const rows = [...(await (await load("store/inspections.js")).list()), ...(await (await load("store/bin.js")).listRemoved())];
    return JSON.stringify(rows.map((row) => [row.key, row.beside, row.inspection]));
  });

/** @param {import("playwright-core").Page} page @param {string} name @param {string} text */
const choose = (page, name, text) =>
  page.locator("#file").setInputFiles({ name: name.endsWith(".json") ? name : "chosen.json", mimeType: "application/json", buffer: Buffer.from(text) });

/** @param {import("playwright-core").Page} page What is said beside the file that was just chosen, once it has been looked at. */
async function told(page) {
  await page.locator("#file:not([disabled])").waitFor({ state: "attached" });
  await page.locator(".refusal, [aria-label='What the file holds']").first().waitFor();
  assert.equal(await page.getByRole("button", { name: "Take in" }).count(), 0, "nothing is offered to be taken in");
  const said = await page.getByRole("alert").allInnerTexts();
  assert.equal(said.length, 1, said.join(" / "));
  // Where it happened: right below the button that the file was chosen with.
  assert.ok(await page.locator("label:has(#file) + .refusal").isVisible(), said[0]);
  return said[0] ?? "";
}

onPhone("every bad file is refused on the page in the bench's own words, and nothing is written", async ({ page }) => {
  await begin(page);
  const before = await kept(page);
  const bad = files("bad");
  assert.ok(bad.length >= 16);
  const words = await page.evaluate(async (texts) => {
    const [asked, { sentence }] = [await (await load("bench/client.js")).bench(), await load("view/notice.js")];
    return Promise.all(texts.map((text) => asked.readFile(text).then(() => "it was taken", sentence)));
  }, bad.map(({ text }) => text));
  for (const [i, { name, text }] of bad.entries()) {
    await choose(page, name, text);
    const said = await told(page);
    assert.equal(said, words[i], name);
    assert.match(said, /^(The|It) [^<>]{12,}[.”]$/, name);
    assert.doesNotMatch(said, /undefined|panick|Something went wrong inside/, name);
    assert.equal(await kept(page), before, `${name}: nothing is written`);
  }
  await page.goto(address("index.html"));
  await page.locator(".camera").waitFor();
  assert.match(await page.locator(".camera").innerText(), /Corvane/);
});

onPhone("files that are cut off, too large, too deep, too new or impossible say so, and a good one goes on from there", async ({ page }) => {
  await begin(page);
  const before = await kept(page);
  for (const [name, text, wanted] of MADE) {
    assert.ok(text !== SOUND && text !== DIALS, name);
    await choose(page, name, text);
    assert.match(await told(page), wanted, name);
  }
  const folder = mkdtempSync(join(tmpdir(), "lampblack-"));
  try {
    // Its size is what counts; the disk need not hold it.
    const large = join(folder, "large.json");
    writeFileSync(large, SOUND);
    truncateSync(large, 200 * 1024 * 1024);
    await page.locator("#file").setInputFiles(large);
    assert.equal(await told(page), "This file is 200 MB long, and at most 20 MB are taken. Nothing was read.");
  } finally {
    rmSync(folder, { recursive: true });
  }
  await page.locator("#file").setInputFiles({ name: "picture.jpg", mimeType: "image/jpeg", buffer: Buffer.from([255, 216, 255]) });
  assert.match(await told(page), /its name should end in \.json or \.txt/);
  await page.locator("#file").setInputFiles({ name: "a.json", mimeType: "application/json", buffer: Buffer.from([255, 254, 0, 216]) });
  assert.match(await told(page), /^This file is no text/);
  assert.equal(await kept(page), before);
  await choose(page, "halden.json", SOUND);
  await page.getByRole("button", { name: "Take in" }).click();
  await page.getByText("One camera was taken in.").waitFor();
  assert.equal(await page.getByRole("alert").count(), 0, "what was refused before is no longer said");
});

/** Markup wherever a person can type. @param {string} where */
const MARKUP = (where) => `</title><script>hit("${where}")</script><img src=x onerror="hit('${where}')"><svg onload="hit('${where}')">`;

onPhone("odd files are taken in with a word for what is odd, and nothing in them runs", async ({ page }) => {
  /** @type {string[]} */
  const hits = [];
  await page.exposeFunction("hit", (/** @type {string} */ where) => void hits.push(where));
  page.on("dialog", (dialog) => {
    hits.push(`dialog: ${dialog.message()}`);
    dialog.dismiss();
  });
  const marked = JSON.parse(SOUND);
  Object.assign(marked, { id: "019c8fd0-5a00-7e64-bc37-804f5ea1cd99", notes: MARKUP("notes"), [MARKUP("key")]: 1 });
  Object.assign(marked.camera, { maker: MARKUP("maker"), model: MARKUP("model"), serial: MARKUP("serial") });
  marked.findings[0].note = MARKUP("finding");
  marked.meter.runs[0].reference.note = MARKUP("reference");
  await begin(page);
  for (const { name, text } of [...files("tolerated"), { name: "markup.json", text: JSON.stringify(marked) }]) {
    const before = await kept(page);
    await choose(page, name, text);
    const preview = page.getByRole("region", { name: "What the file holds" });
    await preview.waitFor();
    const said = await preview.innerText();
    assert.equal(await page.getByRole("alert").count(), 0, name);
    assert.equal(await kept(page), before, `${name}: looking writes nothing`);
    if (name === "proto.json") {
      assert.ok(said.includes("“__proto__”; it was kept as it came."), said);
    } else if (name === "many_unknown_keys.json") {
      assert.ok(said.includes("“later_0”; it was kept as it came.") && said.includes("5 more unknown keys were kept"), said);
    } else if (name === "markup.json") {
      assert.ok(said.includes(MARKUP("key").slice(0, 40)), said);
    }
    await page.getByRole("button", { name: "Take in" }).click();
    await page.locator(".happened p").waitFor();
    const link = await page.locator(".happened a").getAttribute("href");
    const query = new URL(link ?? "", address()).search;
    // Where there is markup in it, on every page that shows what was typed.
    const withMarkup = /script/.test(text);
    for (const shown of withMarkup ? ["index", "camera", "round", "meter", "reference", "sheet", "file", "inspection"] : ["inspection"]) {
      await page.goto(address(`${shown}.html${query}${shown === "round" ? "&area=power" : ""}`));
      await page.waitForFunction(() => document.querySelector("#head a"));
      assert.equal(await page.locator("main img[src=x], main script, main svg[onload], header script").count(), 0, `${name} on ${shown}`);
    }
    if (withMarkup) {
      assert.ok((await page.getByLabel("Notes").inputValue()).startsWith("</title><script>"), "what was typed is shown as it was typed");
    }
    await page.goto(address("file.html"));
    await page.getByRole("button", { name: /^Back up/ }).waitFor();
    assert.equal(await page.evaluate(() => /** @type {any} */ ({}).polluted), undefined, name);
  }
  assert.deepEqual(hits, []);
});
