/**
 * What is kept over time and between tabs: two tabs on one camera, the bin, revisions side by side, pictures, a full phone.
 * Not here: single edits (`store.test.mjs`).
 */

import assert from "node:assert/strict";
import { address, onPhone } from "./support.mjs";

/** Puts one camera on the bench; gives its key. */
async function begin(page) {
  await page.goto(address());
  return page.evaluate(async () => {
    const [{ bench }, { add }] = [await load("bench/client.js"), await load("store/inspections.js")];
    const { inspection } = await (await bench()).newInspection("rangefinder");
    return (await add(inspection)).key;
  });
}

/** Takes a camera in hand in a tab and counts what it hears. */
const inHand = (page, key) =>
  page.evaluate(async (key) => {
    globalThis.desk = await (await load("store/edit.js")).open(key);
    globalThis.heard = { changed: 0, elsewhere: 0 };
    desk.on("changed", () => (heard.changed += 1));
    desk.on("elsewhere", () => (heard.elsewhere += 1));
  }, key);

onPhone("two tabs see each other's changes and lose none", async ({ page, open }) => {
  const key = await begin(page);
  const other = await open();
  await Promise.all([inHand(page, key), inHand(other, key)]);
  await page.evaluate(() => desk.change(["camera", "maker"], "Halden"));
  await other.waitForFunction(() => heard.elsewhere === 1 && desk.inspection.camera.maker === "Halden");
  assert.match(await other.evaluate(() => desk.view.title), /Halden/);

  const fields = Array.from({ length: 12 }, (_, i) => `entry ${i}`);
  await Promise.all([
    page.evaluate(async (fields) => {
      for (const text of fields) {
        await desk.apply((draft) => (draft.notes += `${text} of one; `), text);
      }
    }, fields),
    other.evaluate(async (fields) => {
      for (const text of fields) {
        await desk.apply((draft) => (draft.notes += `${text} of two; `), text);
      }
    }, fields),
  ]);
  const { inspection } = await page.evaluate(async (key) => (await load("store/inspections.js")).get(key), key);
  for (const text of fields) {
    assert.ok(inspection.notes.includes(`${text} of one;`) && inspection.notes.includes(`${text} of two;`), `${text} of both tabs`);
  }
  assert.equal(inspection.revision, 2 + 2 * fields.length);
});

onPhone("the bin keeps for thirty days, then lets go with the pictures that nobody uses", async ({ page }) => {
  const key = await begin(page);
  const seen = await page.evaluate(async (key) => {
    const bin = await load("store/bin.js");
    const { add, list } = await load("store/inspections.js");
    const { putPhoto, getPhoto, url } = await load("store/photos.js");
    const { open } = await load("store/edit.js");
    const { bench } = await load("bench/client.js");
    const photo = (id) => ({ id, taken: "2026-03-01T09:30:00Z", media_type: "image/jpeg", width_px: 1, height_px: 1, size_bytes: 3, data: null });
    const other = (await add((await (await bench()).newInspection("folding")).inspection)).key;
    for (const id of ["own", "shared", "taken back", "fresh"]) {
      await putPhoto({ id, blob: new Blob([id], { type: "image/jpeg" }) });
    }
    const [one, two] = [await open(key), await open(other)];
    await one.apply((draft) => draft.photos.push(photo("own"), photo("shared")), "pictures");
    await two.apply((draft) => draft.photos.push(photo("taken back"), photo("shared")), "pictures");
    await two.apply((draft) => draft.photos.shift(), "picture removed");
    const shown = (await url("own")).startsWith("blob:");

    await bin.remove(key, "2026-03-01T09:30:00Z");
    const inBin = [(await list()).map((row) => row.key), (await bin.listRemoved()).map((row) => row.key)];
    await bin.restore(key);
    const back = (await list()).length;
    await bin.remove(key, "2026-03-01T09:30:00Z");
    const early = await bin.purge("2026-03-31T09:29:59Z");
    const late = await bin.purge("2026-03-31T09:30:01Z");
    const pictures = [];
    for (const id of ["own", "shared", "taken back", "fresh"]) {
      pictures.push((await getPhoto(id)) !== undefined);
    }
    await bin.remove(other);
    const emptied = await bin.empty();
    return { other, shown, inBin, back, early, late, pictures, emptied, left: (await list()).length + (await bin.listRemoved()).length,
      shared: (await getPhoto("shared")) !== undefined };
  }, key);
  assert.equal(seen.shown, true);
  assert.deepEqual(seen.inBin, [[seen.other], [key]]);
  assert.equal(seen.back, 2);
  assert.equal(seen.early, 0);
  assert.equal(seen.late, 1);
  assert.deepEqual(seen.pictures, [false, true, true, true], "a picture goes only when nothing, not even an earlier state, uses it");
  assert.equal(seen.emptied, 1);
  assert.equal(seen.left, 0);
  assert.equal(seen.shared, false);
});

onPhone("the same camera with other content stands beside the one that is there", async ({ page }) => {
  const key = await begin(page);
  const seen = await page.evaluate(async (key) => {
    const { add, get, list, keepBoth } = await load("store/inspections.js");
    const { bench } = await load("bench/client.js");
    const bin = await load("store/bin.js");
    const first = (await get(key)).inspection;
    const changed = structuredClone(first);
    changed.camera.maker = "Brindle";
    const second = (await (await bench()).accept(changed)).inspection;
    const again = await add(structuredClone(first));
    const beside = await add(second);
    const besideAgain = await add(second);
    const third = await add((await (await bench()).accept({ ...second, notes: "third" })).inspection);
    const rows = (await list()).map((row) => [row.key, row.beside]);
    const untouched = (await get(key)).inspection.camera.maker;
    await keepBoth(beside.key);
    const settled = (await list()).map((row) => [row.key, row.beside]);
    await bin.remove(key);
    const alone = (await list()).map((row) => [row.key, row.beside]);
    const fromBin = await add(structuredClone(first));
    return { again, beside, besideAgain, third, rows, untouched, settled, alone, fromBin, all: (await list()).length };
  }, key);
  assert.deepEqual(seen.again, { key, already: true, beside: null });
  assert.deepEqual(seen.beside, { key: `${key}~2`, already: false, beside: key });
  assert.deepEqual(seen.besideAgain, { key: `${key}~2`, already: true, beside: null });
  assert.deepEqual(seen.third, { key: `${key}~3`, already: false, beside: key });
  assert.deepEqual(new Map(seen.rows), new Map([[key, null], [`${key}~2`, key], [`${key}~3`, key]]));
  assert.equal(seen.untouched, "");
  assert.equal(new Map(seen.settled).get(`${key}~2`), null);
  assert.deepEqual(new Map(seen.alone), new Map([[`${key}~2`, null], [`${key}~3`, null]]), "beside nothing when the other is in the bin");
  assert.deepEqual(seen.fromBin, { key, already: true, beside: null });
  assert.equal(seen.all, 3);
});

onPhone("a full phone says so, keeps what it had, and loses nothing", async ({ page }) => {
  const key = await begin(page);
  await inHand(page, key);
  const full = await page.evaluate(async (key) => {
    const put = IDBObjectStore.prototype.put;
    globalThis.makeRoom = () => (IDBObjectStore.prototype.put = put);
    IDBObjectStore.prototype.put = () => {
      throw new DOMException("no room", "QuotaExceededError");
    };
    const failed = new Promise((resolve) => desk.on("failed", resolve));
    const kept = await desk.change(["camera", "maker"], "Halden");
    return { kept, failure: await failed, shown: desk.inspection.camera.maker, written: (await load("store/journal.js")).pending(key),
      stored: (await (await load("store/inspections.js")).get(key)).inspection.camera.maker };
  }, key);
  assert.equal(full.kept, false);
  assert.match(full.failure.sentence, /^The phone has no room left: .*nothing was lost\. Take out a backup and empty the bin, then try again\.$/);
  assert.equal(full.failure.waiting, true);
  assert.equal(full.shown, "Halden", "what was entered stays on the page");
  assert.equal(full.written.length, 1, "and in the journal");
  assert.equal(full.stored, "");
  const after = await page.evaluate(async (key) => {
    makeRoom();
    await desk.retry();
    return { stored: (await (await load("store/inspections.js")).get(key)).inspection.camera.maker, written: (await load("store/journal.js")).pending(key) };
  }, key);
  assert.deepEqual(after, { stored: "Halden", written: [] });
});

onPhone("a full phone takes no file in by halves", async ({ page }) => {
  await begin(page);
  const seen = await page.evaluate(async () => {
    const { add, list } = await load("store/inspections.js");
    const { bench } = await load("bench/client.js");
    const { inspection } = await (await bench()).newInspection("folding");
    inspection.photos.push({ id: "p", taken: "", media_type: "image/jpeg", width_px: 1, height_px: 1, size_bytes: 1, data: btoa("x") });
    const put = IDBObjectStore.prototype.put;
    IDBObjectStore.prototype.put = () => {
      throw new DOMException("no room", "QuotaExceededError");
    };
    const failure = await add(inspection).then(() => null, (error) => ({ name: error.name, full: error.full }));
    IDBObjectStore.prototype.put = put;
    return { failure, count: (await list()).length };
  });
  assert.deepEqual(seen, { failure: { name: "StoreError", full: true }, count: 1 });
});

onPhone("pictures go into a file and come out of it on another phone", async ({ page, open }) => {
  const key = await begin(page);
  const text = await page.evaluate(async (key) => {
    const { putPhoto, withPictures } = await load("store/photos.js");
    const desk = await (await load("store/edit.js")).open(key);
    const blob = new Blob([new Uint8Array([255, 216, 255, 0, 128, 7])], { type: "image/jpeg" });
    await putPhoto({ id: "01a2127a-0000-7000-8000-000000000001", blob });
    await desk.apply((draft) => draft.photos.push({ id: "01a2127a-0000-7000-8000-000000000001", taken: "2026-03-01T09:30:00Z",
      media_type: "image/jpeg", width_px: 1, height_px: 1, size_bytes: 6, data: null }), "picture");
    return (await (await load("bench/client.js")).bench()).writeFile(await withPictures(desk.inspection));
  }, key);
  assert.match(text, /"data": "\/9j\/AIAH"/);
  const tab = await open();
  const seen = await tab.evaluate(async (text) => {
    await new Promise((resolve) => (indexedDB.deleteDatabase("lampblack").onsuccess = resolve));
    const taken = await (await (await load("bench/client.js")).bench()).readFile(text);
    const { add, get } = await load("store/inspections.js");
    const { key } = await add(taken.inspections[0]);
    const blob = await (await load("store/photos.js")).getPhoto("01a2127a-0000-7000-8000-000000000001");
    return { key, type: blob.type, bytes: [...new Uint8Array(await blob.arrayBuffer())], data: (await get(key)).inspection.photos[0].data,
      findings: taken.findings };
  }, text);
  assert.deepEqual(seen, { key, type: "image/jpeg", bytes: [255, 216, 255, 0, 128, 7], data: null, findings: [] });
});

onPhone("settings last, the look is there at once, and the store is asked to stay", async ({ page }) => {
  await begin(page);
  await page.evaluate(async () => {
    const settings = await load("store/settings.js");
    await settings.set("theme", "contrast");
    await settings.set("lastKind", "folding");
  });
  await page.reload();
  const seen = await page.evaluate(async () => {
    const settings = await load("store/settings.js");
    const persist = await load("store/persist.js");
    let asked = 0;
    navigator.storage.persist = async () => (asked += 1) > 0;
    await persist.askOnce();
    await persist.askOnce();
    localStorage.setItem("lampblack.theme", "neon");
    return { theme: settings.theme(), kind: await settings.get("lastKind"), none: await settings.get("never"), asked, room: (await persist.estimate()).quota > 0 };
  });
  assert.deepEqual(seen, { theme: "auto", kind: "folding", none: undefined, asked: 1, room: true });
});
