/**
 * The list of cameras: found by a few letters, in portions, kept in step with what changes, brought along from an older store, and
 * shown without the module behind the bench.
 * Not here: how quick it is with ten thousand (`cargo xtask bench`); what one camera is about (`flows.test.mjs`).
 */

import assert from "node:assert/strict";
import { until } from "./patience.mjs";
import { address, onPhone, SITE } from "./support.mjs";

/** Puts many made-up cameras on the bench, below the pages. @param {import("playwright-core").Page} page @param {number} count */
async function many(page, count) {
  await page.goto(address("more.html"));
  await page.evaluate(async (wanted) => {
    const { bench } = await load("bench/client.js");
    const [{ write }, { putRow }] = [await load("store/database.js"), await load("store/rows.js")];
    const { inspection } = await (await bench()).newInspection("rangefinder");
    await write(async (/** @type {any} */ writing) => {
      for (let i = 0; i < wanted; i += 1) {
        const key = `made-${String(i).padStart(5, "0")}`;
        const updated = new Date(Date.UTC(2026, 0, 1) + i * 60_000).toISOString();
        const camera = { ...inspection.camera, maker: i % 2 ? "Halden" : "Corvane", model: `Number ${i}`, serial: `S${i}` };
        await putRow(writing, { key, inspection: { ...inspection, id: key, camera, updated }, updated, removed: null, beside: null });
      }
    });
  }, count);
}

onPhone("many cameras come in portions, newest first, and are found by a few letters", async ({ page }) => {
  await many(page, 130);
  await page.goto(address("index.html"));
  await page.getByText("130 cameras, the newest first").waitFor();
  assert.match(await page.locator(".camera").first().innerText(), /Halden Number 129 · S129[^]*not yet known/i);
  const first = await page.locator(".camera").count();
  assert.ok(first >= 40 && first < 130, `${first} are drawn`);
  // Each time that somebody comes to the end, another portion comes.
  const drawn = () => page.locator(".camera").count();
  for (let [n, before] = [0, first]; n < 8 && before < 130; n += 1) {
    await page.evaluate(() => scrollTo(0, document.body.scrollHeight));
    const least = before;
    before = await until(drawn, (count) => count > least);
  }
  assert.equal(await drawn(), 130);
  await page.getByLabel("Find a camera").fill("corvane s12");
  await page.getByText("6 cameras", { exact: true }).waitFor();
  assert.deepEqual(await page.locator(".camera h2").allInnerTexts(), [128, 126, 124, 122, 120, 12].map((i) => `Corvane Number ${i} · S${i}`));
  await page.getByLabel("Find a camera").fill("nothing like it");
  await page.getByText("0 cameras", { exact: true }).waitFor();
  // Another order, and one outcome only.
  await page.getByLabel("Find a camera").fill("");
  await page.getByLabel("Order").selectOption("oldest");
  await page.locator(".camera h2").first().getByText("Corvane Number 0 · S0", { exact: true }).waitFor();
  await page.getByLabel("Outcome").selectOption("not_yet_known");
  await page.getByText("130 cameras").waitFor();
  await page.getByLabel("Order").selectOption("name");
  await page.locator(".camera h2").first().getByText("Corvane Number 0 · S0", { exact: true }).waitFor();
  assert.match(await page.locator(".camera h2").nth(1).innerText(), /Corvane Number 10 ·/);
});

onPhone("the list needs no module, and follows a change, the bin and taking back", async ({ page }) => {
  await many(page, 3);
  /** @type {string[]} */
  const asked = [];
  page.on("request", (request) => asked.push(request.url()));
  await page.goto(address("index.html"));
  await page.locator(".camera").nth(2).waitFor();
  assert.ok(asked.length > 3);
  assert.deepEqual(asked.filter((url) => /\.wasm|worker\.js/.test(url)), []);
  const lines = await page.evaluate(async () => {
    const [{ open }, bin, { all }] = [await load("store/edit.js"), await load("store/bin.js"), await load("store/summaries.js")];
    const desk = await open("made-00001");
    await desk.change(["camera", "model"], "Renamed");
    const renamed = (await all()).map((/** @type {any} */ one) => one.camera.model);
    await desk.undo();
    desk.close();
    const undone = (await all()).map((/** @type {any} */ one) => one.camera.model);
    await bin.remove("made-00002");
    const left = (await all()).map((/** @type {any} */ one) => one.key).sort();
    const inBin = (await bin.listRemoved()).map((/** @type {any} */ one) => one.key);
    return { renamed, undone, left, inBin };
  });
  assert.deepEqual(lines, {
    renamed: ["Renamed", "Number 2", "Number 0"], undone: ["Number 1", "Number 2", "Number 0"],
    left: ["made-00000", "made-00001"], inBin: ["made-00002"],
  });
});

onPhone("a store of the first version gets its list when it is opened", async ({ page }) => {
  await page.route("**/old.html", (route) => route.fulfill({ contentType: "text/html", body: "<!doctype html><title>old</title>" }));
  await page.goto(new URL("old.html", SITE).href);
  await page.evaluate(() => new Promise((done, fail) => {
    const opening = indexedDB.open("lampblack", 1);
    opening.onerror = () => fail(opening.error);
    opening.onupgradeneeded = () => {
      const db = opening.result;
      db.createObjectStore("inspections", { keyPath: "key" }).createIndex("updated", "updated");
      db.createObjectStore("photos", { keyPath: "id" });
      db.createObjectStore("history", { keyPath: ["key", "n"] });
      db.createObjectStore("settings", { keyPath: "name" });
    };
    opening.onsuccess = () => {
      const db = opening.result;
      const writing = db.transaction("inspections", "readwrite");
      const inspection = { camera: { maker: "Brindle", model: "Old", serial: "1" }, lens: { name: "" }, result: null };
      writing.objectStore("inspections").put({ key: "old", inspection, updated: "2026-01-01T00:00:00Z", removed: null, beside: null });
      writing.oncomplete = () => { db.close(); done(null); };
    };
  }));
  await page.goto(address("index.html"));
  await page.locator(".camera").first().waitFor();
  assert.match(await page.locator(".camera").first().innerText(), /Brindle Old · 1/);
});
