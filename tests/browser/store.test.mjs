/**
 * The store through a real page of the site: what was entered is kept whatever happens, and nothing is written over.
 * Not here: the bench behind the worker (`bench.test.mjs`); the pages themselves.
 */

import assert from "node:assert/strict";
import { readFile } from "node:fs/promises";
import { address, onPhone } from "./support.mjs";

/** Opens a page and puts one camera on the bench; gives its key. */
async function begin(page) {
  await page.goto(address());
  return page.evaluate(async () => {
    const [{ bench }, { add }] = [await load("bench/client.js"), await load("store/inspections.js")];
    const { inspection } = await (await bench()).newInspection("rangefinder");
    return (await add(inspection)).key;
  });
}

const journal = (page) => page.evaluate(() => Object.keys(localStorage).filter((name) => name.includes("journal")));

const kept = (page, key) =>
  page.evaluate(async (key) => (await (await load("store/inspections.js")).get(key))?.inspection, key);

/** A desk on which nothing gets as far as the store, as when the page is closed at once. */
function enterAndHang(page, key, edits) {
  return page.evaluate(
    async ([key, edits]) => {
      const { Bench } = await load("bench/client.js");
      const desk = await (await load("store/edit.js")).open(key);
      Bench.prototype.accept = () => new Promise(() => {});
      edits.forEach(([path, value]) => desk.change(path, value));
    },
    [key, edits],
  );
}

onPhone("an edit is kept, shown, and struck out of the journal", async ({ page }) => {
  const key = await begin(page);
  const seen = await page.evaluate(async (key) => {
    const desk = await (await load("store/edit.js")).open(key);
    const { pending } = await load("store/journal.js");
    const changed = new Promise((resolve) => desk.on("changed", resolve));
    const done = desk.change(["camera", "maker"], "Halden");
    const written = pending(key);
    const shown = desk.inspection.camera.maker;
    await changed;
    return { written, shown, kept: await done, title: desk.view.title, revision: desk.inspection.revision };
  }, key);
  assert.deepEqual(seen.written, [{ path: ["camera", "maker"], value: "Halden" }], "in the journal at once");
  assert.equal(seen.shown, "Halden");
  assert.equal(seen.kept, true);
  assert.match(seen.title, /Halden/);
  assert.equal(seen.revision, 2);
  assert.equal((await kept(page, key)).camera.maker, "Halden");
  assert.deepEqual(await journal(page), []);
});

onPhone("what was entered is there after the page was closed in the middle", async ({ page, open }) => {
  const key = await begin(page);
  await enterAndHang(page, key, [[["camera", "maker"], "Hal"], [["camera", "maker"], "Halden"], [["notes"], "Shutter <b>quiet</b>"]]);
  assert.equal((await kept(page, key)).camera.maker, "", "not in the store yet");
  await page.reload();
  const after = await page.evaluate(async (key) => (await (await load("store/edit.js")).open(key)).inspection, key);
  assert.equal(after.camera.maker, "Halden");
  assert.equal(after.notes, "Shutter <b>quiet</b>");
  assert.deepEqual(await journal(page), []);

  await enterAndHang(page, key, [[["camera", "model"], "35 R"]]);
  await page.close();
  const other = await open();
  const found = await other.evaluate(async (key) => (await (await load("store/edit.js")).open(key)).inspection, key);
  assert.equal(found.camera.model, "35 R", "another tab takes over what a closed one left");
  assert.deepEqual(await journal(other), []);
});

onPhone("what was entered last is on the bench and in a backup, although its page was left at once", async ({ page }) => {
  const key = await begin(page);
  await enterAndHang(page, key, [[["camera", "maker"], "Halden"]]);
  await page.goto(address("index.html"));
  await page.locator(".camera").filter({ hasText: "Halden" }).waitFor();
  assert.deepEqual(await journal(page), []);
  await enterAndHang(page, key, [[["camera", "model"], "35 R"]]);
  await page.goto(address("file.html"));
  const button = page.getByRole("button", { name: "Back up one camera" });
  await button.waitFor();
  const [download] = await Promise.all([page.waitForEvent("download"), button.click()]);
  assert.match(await readFile(await download.path(), "utf8"), /"model": "35 R"/);
});

onPhone("a camera's journal is not taken for another's", async ({ page }) => {
  const key = await begin(page);
  const seen = await page.evaluate(async (key) => {
    const { inspection } = await (await (await load("bench/client.js")).bench()).newInspection("folding");
    const { add, get } = await load("store/inspections.js");
    const other = (await add({ ...inspection, id: `a.${key}` })).key;
    localStorage.setItem(`lampblack.journal.gone.${other}`, JSON.stringify([{ path: ["camera", "maker"], value: "Osk" }]));
    const { open, carryOver } = await load("store/edit.js");
    const maker = (await open(key)).inspection.camera.maker;
    await carryOver();
    return [maker, (await get(other)).inspection.camera.maker];
  }, key);
  assert.deepEqual(seen, ["", "Osk"]);
});

onPhone("a living tab's journal is left to it", async ({ page, open }) => {
  const key = await begin(page);
  await enterAndHang(page, key, [[["camera", "model"], "35 R"]]);
  const other = await open();
  const seen = await other.evaluate(async (key) => (await (await load("store/edit.js")).open(key)).inspection, key);
  assert.equal(seen.camera.model, "");
  assert.equal((await journal(page)).length, 1);
});

onPhone("changes made together are in the journal too", async ({ page }) => {
  const key = await begin(page);
  await page.evaluate(async (key) => {
    const { Bench } = await load("bench/client.js");
    const desk = await (await load("store/edit.js")).open(key);
    Bench.prototype.accept = () => new Promise(() => {});
    desk.apply((draft) => {
      draft.findings.push({ point: "shutter-lock", condition: "sound", note: "", photos: [], at: "2026-03-01T09:30:00Z" });
      draft.camera.maker = "Corvane";
    }, "finding");
  }, key);
  assert.equal((await kept(page, key)).findings.length, 0, "not in the store yet");
  await page.reload();
  const after = await page.evaluate(async (key) => (await (await load("store/edit.js")).open(key)).inspection, key);
  assert.equal(after.camera.maker, "Corvane");
  assert.deepEqual(after.findings.map((finding) => finding.point), ["shutter-lock"]);
  assert.deepEqual(await journal(page), []);
});

onPhone("a refused edit changes nothing, and those beside it are kept", async ({ page }) => {
  const key = await begin(page);
  const seen = await page.evaluate(async (key) => {
    const desk = await (await load("store/edit.js")).open(key);
    const failures = [];
    desk.on("failed", ({ sentence, path, waiting }) => failures.push({ sentence, path, waiting }));
    const kept = await Promise.all([
      desk.change(["camera", "maker"], "Brindle"),
      desk.change(["camera", "kind"], "teapot"),
      desk.change(["camera", "times"], ["1/0"]),
      desk.change(["camera", "serial"], "9"),
    ]);
    return { kept, failures, inspection: desk.inspection };
  }, key);
  assert.deepEqual(seen.kept, [true, false, false, true]);
  assert.deepEqual(seen.failures.map((failure) => failure.path.join(".")), ["camera.kind", "camera.times"]);
  assert.match(seen.failures[0].sentence, /teapot/);
  assert.match(seen.failures[1].sentence, /1\/0/);
  assert.ok(seen.failures.every((failure) => failure.waiting === false));
  assert.equal(seen.inspection.camera.kind, "rangefinder");
  assert.deepEqual(seen.inspection.camera.times, (await kept(page, key)).camera.times);
  const stored = await kept(page, key);
  assert.equal(stored.camera.maker, "Brindle");
  assert.equal(stored.camera.serial, "9");
  assert.deepEqual(await journal(page), []);
});

onPhone("no path reaches beyond the record", async ({ page }) => {
  const key = await begin(page);
  const refused = await page.evaluate(async (key) => {
    const desk = await (await load("store/edit.js")).open(key);
    const paths = [
      ["__proto__", "x"], ["camera", "__proto__"], ["constructor", "prototype", "x"], ["camera", "constructor"], [],
      ["camera", "colour"], ["findings", 3], ["findings", "length"], ["findings", -1], ["camera", "toString", "x"], "notes",
    ];
    return paths.map((path) => {
      try {
        desk.change(path, "x");
        return null;
      } catch (error) {
        return error.name;
      }
    });
  }, key);
  assert.deepEqual(refused, refused.map(() => "StoreError"));
  assert.equal(await page.evaluate(() => ({}).x), undefined);
  assert.deepEqual(await journal(page), []);
});

onPhone("changes are taken back one by one, typing in one field together", async ({ page }) => {
  const key = await begin(page);
  const seen = await page.evaluate(async (key) => {
    const desk = await (await load("store/edit.js")).open(key);
    for (const text of ["O", "Os", "Osk"]) {
      await desk.change(["camera", "maker"], text);
    }
    await desk.apply((draft) => (draft.costs.for_parts = true), "for parts");
    const revision = desk.inspection.revision;
    const labels = [await desk.undo(), desk.inspection.costs.for_parts, await desk.undo(), desk.inspection.camera.maker];
    return { labels, more: await desk.canUndo(), none: await desk.undo(), went: desk.inspection.revision - revision };
  }, key);
  assert.deepEqual(seen.labels, ["for parts", false, "camera.maker", ""]);
  assert.equal(seen.more, false);
  assert.equal(seen.none, null);
  assert.equal(seen.went, 2, "taking back counts as a change");
});

onPhone("the last fifty changes are remembered", async ({ page }) => {
  const key = await begin(page);
  const back = await page.evaluate(async (key) => {
    const desk = await (await load("store/edit.js")).open(key);
    for (let i = 1; i <= 55; i += 1) {
      await desk.apply((draft) => (draft.notes = `${i}`), `note ${i}`);
    }
    let count = 0;
    while (await desk.undo()) {
      count += 1;
    }
    return { count, notes: desk.inspection.notes };
  }, key);
  assert.deepEqual(back, { count: 50, notes: "5" });
});

onPhone("a dropped connection is opened again", async ({ page }) => {
  const key = await begin(page);
  const seen = await page.evaluate(async (key) => {
    const { use } = await load("store/database.js");
    const { get } = await load("store/inspections.js");
    await use(async (db) => db.close());
    const closed = (await get(key))?.key;
    await use(async (db) => void db.dispatchEvent(new Event("close")));
    const terminated = (await get(key))?.key;
    const desk = await (await load("store/edit.js")).open(key);
    await use(async (db) => db.close());
    const kept = await desk.change(["camera", "maker"], "Halden");
    return { closed, terminated, kept };
  }, key);
  assert.deepEqual(seen, { closed: key, terminated: key, kept: true });
});

onPhone("an older page gives way to a newer one and says so", async ({ page }) => {
  await begin(page);
  const seen = await page.evaluate(async () => {
    const { database } = await load("store/database.js");
    const { list } = await load("store/inspections.js");
    const closed = new Promise((resolve) => database.addEventListener("closed", () => resolve(true)));
    const newer = await new Promise((resolve, reject) => {
      const request = indexedDB.open("lampblack", 99);
      request.onsuccess = () => resolve(request.result);
      request.onerror = () => reject(request.error);
    });
    const sentence = await list().then(() => null, (error) => error.message);
    newer.close();
    return { closed: await closed, sentence };
  });
  assert.equal(seen.closed, true);
  assert.match(seen.sentence, /Reload it; nothing was lost/);
});
