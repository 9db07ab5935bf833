/**
 * Takes from files against the truth, and everything that is no take: a sentence each, nothing kept, other takes unharmed; the pages
 * of the shutter with takes in them are accessible.
 * Not here: hands free (`listen.test.mjs`); clips (`clip.test.mjs`).
 */

import assert from "node:assert/strict";
import axe from "@axe-core/playwright";
import { address, onPhone } from "./support.mjs";
import { astray, camera, head, LIGHT_FILE, LIGHTS, record, signal, SOUND_FILE, SOUNDS, wav } from "./takes.mjs";

const AxeBuilder = /** @type {any} */ (axe).default ?? axe;
const TAGS = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa"];

/**
 * @param {import("playwright-core").Page} page
 * @param {string} key
 * @param {RegExp} signals
 * @param {readonly (readonly any[])[]} truth
 */
async function choosing(page, key, signals, truth) {
  await page.goto(address(`listen.html?${new URLSearchParams({ i: key, marks: truth.map(([mark]) => mark).join(" ") })}`));
  await page.getByRole("radio", { name: signals }).check();
  await page.getByRole("radio", { name: "Slow to fast" }).check();
  await page.getByRole("radio", { name: "1", exact: true }).check();
}

/** @param {import("playwright-core").Page} page @param {string} name @param {Buffer} buffer @param {string} [of] */
const give = (page, name, buffer, of = "#sound-file") => page.locator(of).setInputFiles({ name, mimeType: "application/octet-stream", buffer });

for (const [signals, truth, file, least] of /** @type {[RegExp, typeof SOUNDS, string, number][]} */ ([
  [/^Sound/, SOUNDS, SOUND_FILE, 4],
  [/^Light/, LIGHTS, LIGHT_FILE, 3],
])) {
  onPhone(`a take from a file is true: ${file}`, async ({ page }) => {
    const key = await camera(page, "metal");
    await choosing(page, key, signals, truth);
    await give(page, file, signal(file));
    await page.waitForURL(/take\.html/);
    await page.locator(".shot").first().waitFor();
    const [take] = (await record(page, key)).shutter.takes;
    assert.deepEqual(astray(take, truth), []);
    assert.ok(take.shots.filter((/** @type {any} */ one) => one.time_s !== null).length >= least);
    assert.equal(take.source, file);
    await page.goto(address(`shutter.html?i=${key}`));
    await page.locator(".time").first().waitFor();
    assert.equal(await page.locator(".time .call").count(), await page.locator(".time").count());
    await page.getByRole("radio", { name: /Your own/ }).check();
    await page.getByLabel("Your own tolerance").fill("0.01");
    await page.getByText("your own", { exact: false }).first().waitFor();
    await page.locator(".call-outside").first().waitFor();
    await page.getByLabel("Your own tolerance").fill("wide");
    await page.getByRole("alert").waitFor();
  });
}

onPhone("what is no recording gets a sentence, and the takes that are there stay", async ({ page }) => {
  const key = await camera(page, "metal");
  await choosing(page, key, /^Light/, LIGHTS);
  await give(page, "light.wav", signal(LIGHT_FILE));
  await page.waitForURL(/take\.html/);
  const silence = new Int16Array(44100 * 2);
  const low = new Int16Array(16000).map((_, i) => Math.round(8000 * Math.sin(i / 9)));
  /** @type {[string, string, Buffer, RegExp][]} */
  const bad = [
    ["silence", "silence.wav", wav(silence, 44100), /nothing|silen|no shot/i],
    ["8 kHz", "low.wav", wav(low, 8000), /8000|8 kHz/],
    ["a head that lies", "lie.wav", head(0, 44100, { data: 4_000_000_000 }), /WAV|cut off|data|sample/i],
    ["text", "notes.wav", Buffer.from("1/60 sounds slow\n"), /WAV|RIFF/],
    ["text under no name", "notes.txt", Buffer.from("1/60 sounds slow\n"), /cannot decode/],
    ["nothing at all", "empty.wav", Buffer.alloc(0), /empty/],
  ];
  for (const [what, name, bytes, said] of bad) {
    await choosing(page, key, /^Sound/, SOUNDS);
    await give(page, name, bytes);
    await page.getByRole("alert").waitFor();
    const text = await page.getByRole("alert").innerText();
    assert.match(text, said, what);
    assert.doesNotMatch(text, /went wrong inside/, what);
  }
  assert.equal((await record(page, key)).shutter.takes.length, 1);
  await page.goto(address(`clip.html?i=${key}`));
  for (const [name, bytes] of /** @type {[string, Buffer][]} */ ([["no.mp4", Buffer.from("this is no clip at all")], ["no.mov", wav(low, 8000)], ["none.mp4", Buffer.alloc(0)]])) {
    await page.reload();
    await page.locator("#clip-file").waitFor({ state: "attached" });
    await give(page, name, bytes, "#clip-file");
    await page.getByRole("alert").waitFor();
    assert.match(await page.getByRole("alert").innerText(), /clip|file|MP4|box/i, name);
  }
  assert.equal((await record(page, key)).shutter.takes.length, 1);
});

for (const colorScheme of /** @type {const} */ (["light", "dark"])) {
  onPhone(`the shutter's pages with a take are accessible, ${colorScheme}`, async ({ page }) => {
    const key = await camera(page, "metal", /Single-lens/);
    await choosing(page, key, /^Sound/, SOUNDS);
    await give(page, "ladder.wav", signal(SOUND_FILE));
    await page.waitForURL(/take\.html/);
    const faults = [];
    for (const name of ["take", "shutter", "listen", "clip"]) {
      await page.goto(address(`${name}.html?i=${key}`));
      await page.waitForFunction(() => document.querySelector("main")?.children.length);
      await page.waitForTimeout(300);
      await page.evaluate(() => document.querySelectorAll("details").forEach((one) => { one.open = true; }));
      const { violations } = await new AxeBuilder({ page }).withTags(TAGS).options({ rules: { "color-contrast-enhanced": { enabled: true } } }).analyze();
      faults.push(...violations.map((/** @type {any} */ one) => `${name}: ${one.id} (${one.nodes[0].target.join(" ")})`));
      const small = await page.evaluate(() => [...document.querySelectorAll("button, .button, .tap, summary, .choice, .tick")].filter((one) => one.checkVisibility() && one.getBoundingClientRect().height < 47.5).map((one) => one.textContent));
      faults.push(...small.map((text) => `${name}: "${text}" is too small to hit`));
      if (await page.evaluate(() => document.documentElement.scrollWidth > innerWidth)) {
        faults.push(`${name}: wider than the screen`);
      }
    }
    assert.deepEqual(faults, []);
  }, { context: { colorScheme } });
}
