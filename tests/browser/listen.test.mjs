/**
 * Hands free, with a microphone that plays a recording through the real page: to the record, the plot and the sheet; and what takes
 * the microphone away.
 * Not here: takes from files and bad ones (`shutter.test.mjs`); clips (`clip.test.mjs`).
 */

import assert from "node:assert/strict";
import { address, onPhone } from "./support.mjs";
import { astray, camera, LIGHT_FILE, LIGHTS, paced, playing, record, signal, SOUND_FILE, SOUNDS } from "./takes.mjs";

const RATE = 44100;
/** @type {[number, number][]} Each shot of the ladder with what rings after it. */
const PIECES = SOUNDS.map(([, from, time]) => [Number(from) - 0.1, Number(from) + Number(time) + 0.2]);
const SOUND = playing("sound.wav", () => paced(signal(SOUND_FILE), RATE, PIECES, 1.1, 2.5));
const LIGHT = playing("light.wav", () => paced(signal(LIGHT_FILE), RATE, [[0.1, 1.1]], 0, 2.5));
/** The microphone of the tests' browser now and then puts in 10 ms of nothing: a take that is off is made again. */
const TRIES = 3;

/**
 * Listens to the end of the plan, or until the page says otherwise, and gives the take.
 *
 * @param {import("playwright-core").Page} page
 * @param {string} key
 * @param {string} marks
 * @param {RegExp} signals
 */
async function listen(page, key, marks, signals) {
  await page.goto(address(`listen.html?${new URLSearchParams({ i: key, marks })}`));
  await page.getByRole("radio", { name: signals }).check();
  await page.getByRole("radio", { name: "Slow to fast" }).check();
  await page.getByRole("radio", { name: "1", exact: true }).check();
  await page.getByRole("button", { name: "Listen" }).click();
  await page.locator(".asked").waitFor();
  assert.match(await page.locator(".ask").innerText(), /Fire now/);
  const ended = page.waitForURL(/take\.html/, { timeout: 40_000 });
  await ended.catch(async () => {
    await page.getByRole("button", { name: "Stop" }).click();
    await page.waitForURL(/take\.html/);
  });
  await page.locator(".shot").first().waitFor();
  return (await record(page, key)).shutter.takes.at(-1);
}

/**
 * @param {import("playwright-core").Page} page
 * @param {readonly (readonly any[])[]} truth
 * @param {RegExp} signals
 * @param {number} least Shots that must have a time.
 */
async function truly(page, truth, signals, least) {
  const key = await camera(page, "metal");
  const marks = truth.map(([mark]) => mark);
  let faults = ["nothing was tried"];
  for (let n = 0; n < TRIES && faults.length > 0; n += 1) {
    const take = await listen(page, key, marks.join(" "), signals);
    assert.deepEqual(take.asked, marks.slice(0, take.asked.length));
    assert.equal(take.sample_rate_hz, RATE);
    assert.match(take.capture.join("\n"), /echo cancellation off, noise suppression off, automatic gain off\nclock: /);
    const told = take.shots.filter((/** @type {any} */ one) => one.time_s !== null).length;
    const missed = take.asked.length < marks.length ? [`only ${take.asked.length} of ${marks.length} were caught as they came`] : [];
    faults = [...astray(take, truth), ...missed, ...(told < least ? [`only ${told} of ${truth.length} have a time`] : [])];
  }
  assert.deepEqual(faults, []);
  return key;
}

onPhone("hands free: the ladder of sounds to the record, the plot and the sheet", async ({ page }) => {
  const key = await truly(page, SOUNDS, /^Sound/, 4);
  await page.goto(address(`shutter.html?i=${key}`));
  await page.locator(".time").first().waitFor();
  assert.ok((await page.locator(".time").count()) >= 4);
  assert.match(await page.locator("main").innerText(), /marked times within[^]*by sound/);
  assert.equal(await page.locator("figure svg").count(), 1);
  await page.goto(address(`inspection.html?i=${key}`));
  await page.getByRole("link", { name: "Shutter: every marked time" }).waitFor();
  await page.goto(address(`sheet.html?i=${key}`));
  await page.locator(".sheet h1").waitFor();
  assert.match(await page.locator(".sheet").innerText(), /shutter[^]*1\/60/i);
}, { flags: SOUND, timeout: 240_000 });

onPhone("hands free: a light trace, and a shot that is moved, left out, taken back; the take removed and back", async ({ page }) => {
  const key = await truly(page, LIGHTS, /^Light/, 3);
  const shot = page.locator(".shot").first();
  await shot.getByText("Counts for 1/8").click();
  await shot.getByLabel("Counts for", { exact: true }).selectOption("1/4");
  await shot.getByText("Counts for 1/4").waitFor();
  await shot.getByRole("button", { name: /Leave it out/ }).click();
  await shot.getByRole("button", { name: /Take it back in/ }).click();
  await shot.getByRole("button", { name: /Leave it out/ }).waitFor();
  const first = async () => (await record(page, key)).shutter.takes.at(-1).shots[0];
  await page.waitForFunction(() => document.querySelector(".shot:not(.out)"));
  assert.deepEqual([(await first()).marked, (await first()).dropped], ["1/4", false]);
  assert.match(await shot.getByRole("link", { name: /Do it again/ }).getAttribute("href") ?? "", /listen\.html\?.*marks=1%2F4/);
  const before = (await record(page, key)).shutter.takes.length;
  await page.getByRole("button", { name: "Remove this take" }).click();
  await page.getByText("The take was removed.").waitFor();
  assert.equal((await record(page, key)).shutter.takes.length, before - 1);
  await page.getByRole("button", { name: "Undo", exact: true }).click();
  await page.getByText("Taken back").waitFor();
  assert.equal((await record(page, key)).shutter.takes.length, before);
}, { flags: LIGHT, timeout: 240_000 });

/** @type {[string, RegExp, () => void][]} */
const LOSSES = [
  ["a plug that is pulled", /unplugged or taken away/, () => globalThis.tracks[0].dispatchEvent(new Event("ended"))],
  ["a call", /as a call does/, () => globalThis.contexts[0].suspend()],
  ["a page out of sight", /out of sight/, () => {
    Object.defineProperty(document, "hidden", { value: true, configurable: true });
    document.dispatchEvent(new Event("visibilitychange"));
  }],
];
for (const [name, said, lose] of LOSSES) {
  onPhone(`${name} ends the take with what was caught`, async ({ page }) => {
    await page.addInitScript(() => {
      globalThis.tracks = [];
      globalThis.contexts = [];
      const ask = navigator.mediaDevices.getUserMedia.bind(navigator.mediaDevices);
      navigator.mediaDevices.getUserMedia = async (wanted) => {
        const stream = await ask(wanted);
        globalThis.tracks.push(...stream.getTracks());
        return stream;
      };
      globalThis.AudioContext = class extends AudioContext {
        constructor() {
          super();
          globalThis.contexts.push(this);
        }
      };
    });
    const key = await camera(page, "metal");
    await page.goto(address(`listen.html?${new URLSearchParams({ i: key, marks: "1/4 1/15 1/60 1/250 1/1000 1/2000" })}`));
    await page.getByRole("radio", { name: "Slow to fast" }).check();
    await page.getByRole("radio", { name: "1", exact: true }).check();
    await page.getByRole("button", { name: "Listen" }).click();
    await page.locator(".strip > li").nth(1).waitFor({ timeout: 30_000 });
    await page.evaluate(lose);
    await page.waitForURL(/take\.html/);
    await page.getByText(said).waitFor();
    const { takes } = (await record(page, key)).shutter;
    assert.ok(takes[0].shots.length >= 2 && takes[0].asked.length >= 2);
    assert.ok(takes[0].notices.some((/** @type {any} */ one) => one.code === "ended-early"));
  }, { flags: SOUND });
}

onPhone("a microphone that is refused gets a sentence with what to do, and the page goes on", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`listen.html?i=${key}`));
  await page.getByRole("button", { name: "Listen" }).click();
  await page.getByRole("alert").waitFor();
  assert.match(await page.getByRole("alert").innerText(), /refused\. Allow it|No microphone was found\. Plug one in/);
  assert.ok(await page.getByRole("button", { name: "Listen" }).isEnabled());
});

onPhone("skip and again ask for the right time, by keyboard", async ({ page }) => {
  const key = await camera(page, "cloth");
  await page.goto(address(`listen.html?${new URLSearchParams({ i: key, marks: "1/4 1/15 1/60" })}`));
  await page.getByRole("radio", { name: "Slow to fast" }).check();
  await page.getByRole("button", { name: "Listen" }).focus();
  await page.keyboard.press("Enter");
  await page.locator(".asked", { hasText: "1/4" }).waitFor();
  assert.match(await page.locator(".ask").innerText(), /first of two[^]*then 1\/15/);
  await page.getByRole("button", { name: "Skip this time" }).focus();
  await page.keyboard.press("Enter");
  await page.locator(".asked", { hasText: "1/15" }).waitFor();
  assert.ok(await page.getByRole("button", { name: /^Again/ }).isDisabled());
  await page.getByRole("button", { name: "Stop" }).focus();
  await page.keyboard.press("Enter");
  await page.getByRole("alert").waitFor();
  assert.ok((await page.getByRole("alert").innerText()).length > 20);
  assert.equal((await record(page, key)).shutter.takes.length, 0);
}, { flags: playing("quiet.wav", () => paced(signal(SOUND_FILE), RATE, [[0, 0.1]], 0, 20)) });
