/**
 * The bin: what is removed lies here for thirty days and can be taken out again; after that it is gone with its pictures and recordings.
 * Not here: taking back a single change (`history`).
 *
 * @import { Row, Writing } from "./database.js"
 * @import { Inspection } from "../bench/shapes.js"
 */

import { announce, use, write } from "./database.js";
import { ofKey } from "./history.js";
import { drop } from "./journal.js";
import { release } from "./photos.js";

const DAY_MS = 24 * 60 * 60 * 1000;
/** So long a camera lies in the bin [days]. */
export const DAYS = 30;

/**
 * Puts a camera into the bin.
 *
 * @param {string} key
 * @param {string | Date} [now]
 */
export function remove(key, now = new Date()) {
  return mark(key, new Date(now).toISOString());
}

/**
 * Takes a camera out of the bin.
 *
 * @param {string} key
 */
export function restore(key) {
  return mark(key, null);
}

/**
 * @param {string} key
 * @param {string | null} removed
 */
async function mark(key, removed) {
  await write(async (writing) => {
    const store = writing.objectStore("inspections");
    const row = await store.get(key);
    if (row) {
      await store.put({ ...row, removed });
    }
  });
  announce(key);
}

/**
 * @returns {Promise<Row[]>} What lies in the bin, the last removed first.
 */
export async function listRemoved() {
  const rows = (await use((db) => db.getAll("inspections"))).filter((row) => row.removed !== null);
  return rows.sort((a, b) => String(b.removed).localeCompare(String(a.removed)));
}

/**
 * Throws away what has been in the bin for longer than thirty days.
 *
 * @param {string | number | Date} [now]
 * @returns {Promise<number>} How many cameras went.
 */
export function purge(now = new Date()) {
  const oldest = new Date(now).getTime() - DAYS * DAY_MS;
  return discard((row) => Date.parse(row.removed ?? "") < oldest, new Date(now).getTime());
}

/**
 * Throws away everything that is in the bin.
 *
 * @returns {Promise<number>} How many cameras went.
 */
export function empty() {
  return discard((row) => row.removed !== null, Date.now());
}

/**
 * @param {(row: Row) => boolean} goes
 * @param {number} now
 */
async function discard(goes, now) {
  const { keys, photos } = await write(async (writing) => {
    const rows = await writing.objectStore("inspections").getAll();
    const earlier = await writing.objectStore("history").getAll();
    const keys = new Set(rows.filter(goes).map((row) => row.key));
    for (const key of keys) {
      await writing.objectStore("inspections").delete(key);
      await writing.objectStore("history").delete(ofKey(key));
    }
    const all = [...rows, ...earlier];
    const [gone, stay] = [all.filter((kept) => keys.has(kept.key)), all.filter((kept) => !keys.has(kept.key))];
    await discardUnused(writing, "recordings", recordings(gone), recordings(stay), now);
    return { keys: [...keys], photos: await discardUnused(writing, "photos", pictures(gone), pictures(stay), now) };
  });
  photos.forEach((id) => release(id));
  keys.forEach((key) => {
    drop(key);
    announce(key);
  });
  return keys.length;
}

/** @param {{ inspection: Inspection }[]} kept */
const pictures = (kept) => new Set(kept.flatMap(({ inspection }) => inspection.photos.map((photo) => photo.id)));

/** @param {{ inspection: Inspection }[]} kept */
const recordings = (kept) => new Set(kept.flatMap(({ inspection }) => inspection.shutter.takes.map((take) => take.kept)));

/**
 * Pictures or recordings that no record and no earlier state of one uses any more. One that never belonged to a record may
 * belong to a change that is only just being made, and stays for a day.
 *
 * @param {Writing} writing
 * @param {"photos" | "recordings"} store
 * @param {Set<string>} freed
 * @param {Set<string>} used
 * @param {number} now
 */
async function discardUnused(writing, store, freed, used, now) {
  const unused = [];
  for (let at = await writing.objectStore(store).openCursor(); at; at = await at.continue()) {
    const { id, added } = at.value;
    if (!used.has(id) && (freed.has(id) || now - Date.parse(added) > DAY_MS)) {
      unused.push(id);
      await at.delete();
    }
  }
  return unused;
}
