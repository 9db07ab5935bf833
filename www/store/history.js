/**
 * What a camera's record was before each change, so that a change can be taken back; the last fifty are kept.
 * Not here: the record itself (`inspections`); removed cameras (`bin`).
 *
 * @import { Row, Writing } from "./database.js"
 * @import { Inspection } from "../bench/shapes.js"
 */

import { bench } from "../bench/client.js";
import { use, write } from "./database.js";
import { announce, asWriter } from "./tabs.js";
import { putRow } from "./rows.js";

/** So many changes can be taken back. */
const MOST = 50;
/** Typing on in one field is one change as long as no pause is longer than this [ms]. */
const PAUSE_MS = 4000;

/** @param {string} key */
export const ofKey = (key) => IDBKeyRange.bound([key, 0], [key, Number.MAX_SAFE_INTEGER]);

/**
 * Keeps what a record was before a change; part of the transaction that makes the change.
 *
 * @param {Writing} writing
 * @param {Row} before
 * @param {{ label: string, at: string, typed: boolean }} change `typed`: goes on where the last one with this label stopped.
 */
export async function remember(writing, before, { label, at, typed }) {
  const store = writing.objectStore("history");
  const last = await store.openCursor(ofKey(before.key), "prev");
  const pause = last ? Date.parse(at) - Date.parse(last.value.at) : Infinity;
  if (typed && last && last.value.label === label && pause >= 0 && pause < PAUSE_MS) {
    await last.update({ ...last.value, at });
    return;
  }
  const n = last ? last.value.n + 1 : 1;
  await store.put({ key: before.key, n, inspection: before.inspection, label, at });
  await store.delete(IDBKeyRange.bound([before.key, 0], [before.key, Math.max(0, n - MOST)]));
}

/** @param {string} key */
function newest(key) {
  return use(async (db) => {
    const reading = db.transaction(["inspections", "history"]);
    const [row, last] = await Promise.all([
      reading.objectStore("inspections").get(key),
      reading.objectStore("history").openCursor(ofKey(key), "prev"),
    ]);
    return { row, last: last?.value };
  });
}

/**
 * @param {string} key
 * @returns {Promise<boolean>} Whether there is a change to take back.
 */
export async function canUndo(key) {
  return (await newest(key)).last !== undefined;
}

/**
 * Takes the last change back.
 *
 * @param {string} key
 * @returns {Promise<{ inspection: Inspection, label: string } | null>} The record as it is now and what kind of change was
 *   taken back; `null` where there was none.
 */
export function undo(key) {
  return asWriter(key, async () => {
    const { row, last } = await newest(key);
    if (!row || !last) {
      return null;
    }
    // Taking back is a change too: the revision goes on counting.
    const inspection = await worked({ ...last.inspection, revision: row.inspection.revision });
    await write(async (writing) => {
      await putRow(writing, { ...row, inspection, updated: inspection.updated });
      await writing.objectStore("history").delete([key, last.n]);
    });
    announce(key);
    return { inspection, label: last.label };
  });
}

/** @param {Inspection} inspection */
async function worked(inspection) {
  return (await (await bench()).accept(inspection)).inspection;
}
