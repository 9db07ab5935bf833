/**
 * The bin: what is removed lies here for thirty days and can be taken out again; after that it is gone with its pictures and recordings.
 * Not here: taking back a single change (`history`).
 *
 * @import { Summary, Writing } from "./database.js"
 * @import { Inspection } from "../bench/shapes.js"
 */

import { use, write } from "./database.js";
import { announce } from "./tabs.js";
import { ofKey } from "./history.js";
import { drop } from "./journal.js";
import { release } from "./photos.js";
import { deleteRow, putRow } from "./rows.js";

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
      await putRow(writing, { ...row, removed });
    }
  });
  announce(key);
}

/**
 * @returns {Promise<Summary[]>} What lies in the bin, the last removed first.
 */
export async function listRemoved() {
  const lines = (await use((db) => db.getAll("summaries"))).filter((line) => line.removed !== null);
  return lines.sort((a, b) => String(b.removed).localeCompare(String(a.removed)));
}

/**
 * Throws away what has been in the bin for longer than thirty days.
 *
 * @param {string | number | Date} [now]
 * @returns {Promise<number>} How many cameras went.
 */
export function purge(now = new Date()) {
  const oldest = new Date(now).getTime() - DAYS * DAY_MS;
  return discard((line) => Date.parse(line.removed ?? "") < oldest, new Date(now).getTime());
}

/**
 * Throws away everything that is in the bin.
 *
 * @returns {Promise<number>} How many cameras went.
 */
export function empty() {
  return discard((line) => line.removed !== null, Date.now());
}

/**
 * @param {(line: Summary) => boolean} goes
 * @param {number} now
 */
async function discard(goes, now) {
  const { keys, photos } = await write(async (writing) => {
    const keys = new Set((await writing.objectStore("summaries").getAll()).filter(goes).map((line) => line.key));
    const [gone, stay] = [new Used(), new Used()];
    // One by one, since all of them at once may be more than a phone can hold.
    for (const name of /** @type {("inspections" | "history")[]} */ (["inspections", "history"])) {
      for (let at = await writing.objectStore(name).openCursor(); at; at = await at.continue()) {
        (keys.has(at.value.key) ? gone : stay).add(at.value.inspection);
      }
    }
    for (const key of keys) {
      await deleteRow(writing, key);
      await writing.objectStore("history").delete(ofKey(key));
    }
    await discardUnused(writing, "recordings", gone.recordings, stay.recordings, now);
    return { keys: [...keys], photos: await discardUnused(writing, "photos", gone.photos, stay.photos, now) };
  });
  photos.forEach((id) => release(id));
  keys.forEach((key) => {
    drop(key);
    announce(key);
  });
  return keys.length;
}

/** What records use. */
class Used {
  /** @type {Set<string>} */
  photos = new Set();
  /** @type {Set<string>} */
  recordings = new Set();

  /** @param {Inspection} inspection */
  add(inspection) {
    inspection.photos.forEach((photo) => this.photos.add(photo.id));
    inspection.shutter.takes.forEach((take) => this.recordings.add(take.kept));
  }
}

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
