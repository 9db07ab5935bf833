/**
 * The list of cameras, line by line: the newest at once, the others in small portions, so that no page waits for ten thousand.
 * Not here: writing the lines (`rows`); what a camera holds (`inspections`).
 *
 * @import { Summary } from "./database.js"
 */

import { use } from "./database.js";

/** So many lines are read at a time, which takes a few milliseconds. */
const PORTION = 500;

/** Another revision that is gone, or lies in the bin, is nothing to stand beside. @param {Summary[]} all */
function here(all) {
  const kept = all.filter((one) => one.removed === null);
  const keys = new Set(kept.map((one) => one.key));
  return kept
    .map((one) => (one.beside !== null && !keys.has(one.beside) ? { ...one, beside: null } : one))
    .sort(newestFirst);
}

/** Moments are written alike, so that their letters stand in the order of time, as in the store. @param {Summary} a @param {Summary} b */
const newestFirst = (a, b) => (a.updated > b.updated ? -1 : Number(a.updated < b.updated));

/**
 * @param {number} count
 * @returns {Promise<Summary[]>} The newest of the bench.
 */
export async function newest(count) {
  /** @type {Summary[]} */
  const found = await use(async (db) => {
    const rows = [];
    const reading = db.transaction("summaries").objectStore("summaries").index("updated");
    for (let at = await reading.openCursor(null, "prev"); at && rows.length < count; at = await at.continue()) {
      if (at.value.removed === null) {
        rows.push(at.value);
      }
    }
    return rows;
  });
  return here(found);
}

/** @returns {Promise<Summary[]>} All of the bench, newest first. */
export async function all() {
  /** @type {Summary[]} */
  const found = [];
  for (let last = ""; ; ) {
    const portion = await use((db) => db.getAll("summaries", IDBKeyRange.lowerBound(last, true), PORTION));
    found.push(...portion);
    const end = portion.at(-1);
    if (!end || portion.length < PORTION) {
      return here(found);
    }
    last = end.key;
  }
}

/**
 * @param {readonly Summary[]} list
 * @param {string} text As typed.
 * @returns {readonly Summary[]} Those that have every word of it.
 */
export function search(list, text) {
  const words = text.toLowerCase().split(/\s+/).filter((word) => word);
  return words.length === 0 ? list : list.filter((one) => words.every((word) => one.words.includes(word)));
}

/** The orders in which the list can stand, but for the newest first, as it is read. @type {Record<string, (a: Summary, b: Summary) => number>} */
const ORDERS = {
  oldest: (a, b) => newestFirst(b, a),
  // What is searched begins with the name: putting names together for every comparison would cost more than the comparing.
  name: (a, b) => a.words.localeCompare(b.words),
  open: (a, b) => b.open - a.open || newestFirst(a, b),
};

/**
 * @param {readonly Summary[]} list Newest first, as it is read.
 * @param {{ outcome: string, order: string }} how Key of the outcome, or nothing for all; key of the order.
 * @returns {readonly Summary[]}
 */
export function arrange(list, { outcome, order }) {
  const kept = outcome ? list.filter((one) => one.outcome === outcome) : list;
  const by = ORDERS[order];
  return by ? [...kept].sort(by) : kept;
}
