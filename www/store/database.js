/**
 * The connection to the phone's store: opened when needed, opened again where the phone dropped it, closed where a newer page
 * wants to change it.
 * Not here: the word passed between tabs (`tabs`); what is kept in it (`inspections`, `rows`, `photos`, `recordings`, `history`, `settings`).
 *
 * @import { DBSchema, IDBPDatabase, IDBPTransaction } from "../vendor/idb/index.js"
 * @import { Inspection } from "../bench/shapes.js"
 */

import { openDB } from "../vendor/idb/index.js";
import { nameOf, said } from "./error.js";
import { summaryOf } from "./rows.js";

/**
 * @typedef {object} Row One camera as kept.
 * @property {string} key Its id, or `ID~2` for another revision of it.
 * @property {Inspection} inspection
 * @property {string} updated When it was last changed.
 * @property {string | null} removed When it was put into the bin.
 * @property {string | null} beside Key of the other revision that it stands beside, until the person chooses.
 *
 * @typedef {object} Summary A camera's line in the list.
 * @property {string} key
 * @property {{ maker: string, model: string, serial: string }} camera
 * @property {string} outcome Key; empty where nothing was worked out.
 * @property {string} outcome_words
 * @property {string[]} reasons The first two.
 * @property {string} progress `12 of 47 points looked at`.
 * @property {number} open How many things that matter were not checked.
 * @property {string} words What it is found by, in lower case.
 * @property {string} updated
 * @property {string | null} removed
 * @property {string | null} beside
 *
 * @typedef {object} Earlier An inspection as it was before a change.
 * @property {string} key
 * @property {number} n Counts up.
 * @property {Inspection} inspection
 * @property {string} label What kind of change it was.
 * @property {string} at When the change was made.
 *
 * @typedef {object} Picture A picture or a recording.
 * @property {string} id
 * @property {Blob} blob
 * @property {string} added
 *
 * @typedef {object} Setting
 * @property {string} name
 * @property {unknown} value
 *
 * @typedef {object} Stores
 * @property {{ key: string, value: Row, indexes: { updated: string } }} inspections
 * @property {{ key: string, value: Summary, indexes: { updated: string } }} summaries
 * @property {{ key: string, value: Picture }} photos
 * @property {{ key: string, value: Picture }} recordings
 * @property {{ key: [string, number], value: Earlier }} history
 * @property {{ key: string, value: Setting }} settings
 *
 * @typedef {IDBPDatabase<Stores & DBSchema>} Database
 * @typedef {IDBPTransaction<Stores & DBSchema, typeof CAMERAS, "readwrite">} Writing
 */

const NAME = "lampblack";
const VERSION = 3;
/** What one change of a camera may touch. @type {("inspections" | "summaries" | "history" | "photos" | "recordings")[]} */
const CAMERAS = ["inspections", "summaries", "history", "photos", "recordings"];

/** Tells the page: `closed` where a newer page took over, `blocked` where an older one stands in the way. */
export const database = new EventTarget();

/** @type {Promise<Database> | null} */
let connection = null;

function open() {
  /** @type {Promise<Database>} */
  const opening = openDB(NAME, VERSION, {
    async upgrade(db, from, _to, upgrading) {
      if (from < 1) {
        db.createObjectStore("inspections", { keyPath: "key" }).createIndex("updated", "updated");
        db.createObjectStore("photos", { keyPath: "id" });
        db.createObjectStore("history", { keyPath: ["key", "n"] });
        db.createObjectStore("settings", { keyPath: "name" });
      }
      if (from < 2) {
        db.createObjectStore("recordings", { keyPath: "id" });
        db.createObjectStore("summaries", { keyPath: "key" }).createIndex("updated", "updated");
      }
      if (from < 3) {
        // What a line holds has grown: every line is written anew.
        const summaries = upgrading.objectStore("summaries");
        for (let at = await upgrading.objectStore("inspections").openCursor(); at; at = await at.continue()) {
          await summaries.put(summaryOf(at.value));
        }
      }
    },
    blocked() {
      database.dispatchEvent(new Event("blocked"));
    },
    blocking(_current, _wanted, event) {
      /** @type {IDBDatabase} */ (event.target).close();
      forget();
      database.dispatchEvent(new Event("closed"));
    },
    terminated: forget,
  });
  function forget() {
    if (connection === opening) {
      connection = null;
    }
  }
  opening.catch(forget);
  return opening;
}

/** What a dropped connection looks like; phones drop it while the page is in the background. */
const DROPPED = new Set(["InvalidStateError", "UnknownError", "AbortError"]);

/**
 * Does something with the store; where the connection turns out to be gone, once more with a new one. The work must be such
 * that a second try does no harm: one transaction, with everything prepared before it.
 *
 * @template T
 * @param {(db: Database) => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function use(work) {
  try {
    connection ??= open();
    const used = connection;
    try {
      return await work(await used);
    } catch (error) {
      if (!DROPPED.has(nameOf(error))) {
        throw error;
      }
      if (connection === used) {
        connection = null;
        used.then((db) => db.close(), () => {});
      }
      connection ??= open();
      return await work(await connection);
    }
  } catch (error) {
    throw said(error);
  }
}

/**
 * Writes to the cameras, their history and their pictures in one transaction: all of it or nothing.
 *
 * @template T
 * @param {(writing: Writing) => Promise<T>} body Awaits requests of the transaction only.
 * @param {{ durable?: boolean }} [how] `durable`: on the disk before the promise resolves.
 * @returns {Promise<T>}
 */
export function write(body, { durable = true } = {}) {
  return use(async (db) => {
    const writing = db.transaction(CAMERAS, "readwrite", {
      durability: durable ? "strict" : "relaxed",
    });
    const done = writing.done;
    done.catch(() => {});
    try {
      const value = await body(writing);
      await done;
      return value;
    } catch (error) {
      // A request that fails because its transaction did says less than the transaction's own error.
      const cause = writing.error;
      try {
        writing.abort();
      } catch {
        // It is over already.
      }
      throw cause ?? error;
    }
  });
}
