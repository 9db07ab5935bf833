/**
 * The cameras that are kept: listing, reading, changing, taking in. Nothing is ever written over: before each change the record
 * is remembered, and the same camera with other content stands beside the one that is there.
 * Not here: taking back (`history`), removing (`bin`), the way a page changes a record field by field (`edit`).
 *
 * @import { Picture, Row, Writing } from "./database.js"
 * @import { Inspection } from "../bench/shapes.js"
 */

import { bench } from "../bench/client.js";
import { use, write } from "./database.js";
import { announce, asWriter } from "./tabs.js";
import { nameOf } from "./error.js";
import { remember } from "./history.js";
import { unpack } from "./photos.js";
import { addRow, putRow } from "./rows.js";

/**
 * @returns {Promise<Row[]>} What is on the bench, newest first.
 */
export async function list() {
  const rows = await use((db) => db.getAllFromIndex("inspections", "updated"));
  const here = rows.filter((row) => row.removed === null).reverse();
  const keys = new Set(here.map((row) => row.key));
  return here.map((row) => ({ ...row, beside: row.beside !== null && keys.has(row.beside) ? row.beside : null }));
}

/**
 * @param {string} key
 * @returns {Promise<Row | undefined>}
 */
export function get(key) {
  return use((db) => db.get("inspections", key));
}

/**
 * Keeps a changed record; what it was before is remembered.
 *
 * @param {string} key
 * @param {Inspection} inspection As accepted by the bench.
 * @param {{ durable?: boolean, label?: string, typed?: boolean }} [how] `durable`: on the disk before the promise resolves;
 *   `label`: what kind of change it is, for taking it back; `typed`: one of many small changes that are taken back together.
 */
export async function put(key, inspection, { durable = true, label = "change", typed = false } = {}) {
  const updated = inspection.updated;
  await write(async (writing) => {
    const store = writing.objectStore("inspections");
    const before = await store.get(key);
    if (before) {
      await remember(writing, before, { label, at: updated, typed });
    }
    await putRow(writing, { removed: null, beside: null, ...before, key, inspection, updated });
  }, { durable });
  announce(key);
}

/**
 * Takes an inspection in: a new one, or one from a file.
 *
 * @param {Inspection} inspection
 * @returns {Promise<{ key: string, already: boolean, beside: string | null }>} `already`: the same was there (and was taken
 *   out of the bin where it was in there); `beside`: the same camera with other content, beside which this one stands now.
 */
export function add(inspection) {
  return asWriter(inspection.id, async () => {
    const asked = await bench();
    const { bare, pictures } = unpack(inspection);
    let beside = null;
    for (let n = 1; ; n += 1) {
      const key = n === 1 ? bare.id : `${bare.id}~${n}`;
      const there = await get(key);
      if (!there) {
        try {
          const row = { key, inspection: bare, updated: bare.updated, removed: null, beside };
          await write(async (writing) => {
            await addRow(writing, row);
            await keepPictures(writing, pictures);
          });
        } catch (error) {
          // Another tab took the key in this moment.
          if (nameOf(error) === "ConstraintError") {
            n -= 1;
            continue;
          }
          throw error;
        }
        announce(key);
        return { key, already: false, beside };
      }
      if (await asked.same(there.inspection, bare)) {
        await refill(there, pictures);
        return { key, already: true, beside: null };
      }
      if (there.removed === null && there.inspection.id === bare.id) {
        beside ??= key;
      }
    }
  });
}

/**
 * The same came in once more: its pictures may be missing here, and it may lie in the bin.
 *
 * @param {Row} row
 * @param {Picture[]} pictures
 */
async function refill(row, pictures) {
  await write(async (writing) => {
    if (row.removed !== null) {
      await putRow(writing, { ...row, removed: null });
    }
    await keepPictures(writing, pictures);
  });
  announce(row.key);
}

/**
 * A picture that is there is never written over.
 *
 * @param {Writing} writing
 * @param {Picture[]} pictures
 */
async function keepPictures(writing, pictures) {
  const store = writing.objectStore("photos");
  for (const picture of pictures) {
    if ((await store.getKey(picture.id)) === undefined) {
      await store.put(picture);
    }
  }
}

/**
 * The person chose to keep both revisions: this one stands on its own from now on.
 *
 * @param {string} key
 */
export async function keepBoth(key) {
  await write(async (writing) => {
    const store = writing.objectStore("inspections");
    const row = await store.get(key);
    if (row) {
      await putRow(writing, { ...row, beside: null });
    }
  });
  announce(key);
}
