/**
 * The one way a page changes a camera's record: an edit is written into the journal at once, accepted by the bench, kept, and
 * only then struck out. A refused edit changes nothing; what another tab changed is taken in.
 * Not here: what may be entered (the bench); how edits get into the store (`queue`, `commit`).
 *
 * @import { Accepted, Inspection, View } from "../bench/shapes.js"
 * @import { Entry } from "./journal.js"
 * @import { Path } from "./path.js"
 * @import { Failure } from "./queue.js"
 */

import { bench } from "../bench/client.js";
import { onElsewhere } from "./tabs.js";
import { StoreError } from "./error.js";
import * as history from "./history.js";
import { get } from "./inspections.js";
import { adopt, cameras } from "./journal.js";
import { Listeners } from "./listeners.js";
import { check, setAt } from "./path.js";
import { Queue } from "./queue.js";

/**
 * @typedef {object} Events
 * @property {Desk} changed Edits were kept, or a change was taken back.
 * @property {Desk} elsewhere Another tab changed the record; what was entered here stands.
 * @property {Failure} failed An edit was refused, or is waiting.
 */

/**
 * Takes a camera's record in hand; what was entered and not kept when a page was closed is carried over first.
 *
 * @param {string} key
 * @returns {Promise<Desk>}
 */
export async function open(key) {
  const [row, entries, asked] = await Promise.all([get(key), adopt(key), bench()]);
  if (!row) {
    throw new StoreError("This camera is not on this phone. It may have been removed, or kept in another browser.");
  }
  const desk = new Desk(key, await asked.view(row.inspection));
  await desk.replay(entries);
  return desk;
}

/**
 * Carries over what was entered on any camera and not kept when its page was closed: for pages that show or hand on what is kept
 * without taking a camera in hand.
 */
export async function carryOver() {
  // What belongs to a camera that is gone, or waits for a bench that cannot be loaded, stays in the journal.
  await Promise.all(cameras().map((key) => open(key).then((desk) => desk.close(), () => {})));
}

/** A camera's record in hand. */
export class Desk {
  /** @type {Queue} */
  #queue;
  /** @type {Listeners<Events>} */
  #listeners = new Listeners();
  #life = new AbortController();

  /**
   * @param {string} key
   * @param {Accepted} kept
   */
  constructor(key, kept) {
    this.key = key;
    this.#queue = new Queue(key, kept, {
      changed: () => this.#listeners.tell("changed", this),
      elsewhere: () => this.#listeners.tell("elsewhere", this),
      failed: (failure) => this.#listeners.tell("failed", failure),
    });
    this.#life.signal.addEventListener("abort", onElsewhere((changed) => changed === key && this.#queue.refresh()));
    // A page that comes back as it was left may have slept through changes.
    addEventListener("pageshow", (event) => event.persisted && this.#queue.refresh(), { signal: this.#life.signal });
  }

  /** @returns {Inspection} The record with everything that was entered, kept or on its way. Not to be changed in place. */
  get inspection() {
    return this.#queue.draft;
  }

  /** @returns {View} What its pages show, as of the last time it was kept. */
  get view() {
    return this.#queue.kept.view;
  }

  /**
   * @template {keyof Events} Name
   * @param {Name} name
   * @param {(event: Events[Name]) => void} hear
   * @returns {() => void} Stops it.
   */
  on(name, hear) {
    return this.#listeners.on(name, hear);
  }

  /**
   * Sets one value. Throws where the record has no such place.
   *
   * @param {Path} path
   * @param {unknown} value Plain data.
   * @returns {Promise<boolean>} Whether it was kept.
   */
  change(path, value) {
    check(path);
    return this.#queue.enter(setting({ path: [...path], value: structuredClone(value ?? null) }));
  }

  /**
   * Changes several things that belong together.
   *
   * @param {(draft: Inspection) => void} make Changes the draft in place; may run again on a newer record.
   * @param {string} label What kind of change it is, for taking it back.
   * @returns {Promise<boolean>} Whether it was kept.
   */
  apply(make, label) {
    return this.#queue.enter({ make, path: null, label, typed: false });
  }

  /**
   * Carries over what the journal still has.
   *
   * @param {Entry[]} entries
   */
  async replay(entries) {
    this.#queue.take(entries.map((entry) => ({ ...setting(entry), entries: [entry], settle: () => {} })));
    await this.retry();
  }

  /** Tries what is waiting again. */
  async retry() {
    this.#queue.start();
    await this.settled();
  }

  /** Resolves when nothing is on its way any more. */
  settled() {
    return this.#queue.settled();
  }

  /**
   * Takes the last change back.
   *
   * @returns {Promise<string | null>} What kind of change it was; `null` where there was none.
   */
  async undo() {
    await this.settled();
    const undone = await history.undo(this.key);
    if (!undone) {
      return null;
    }
    this.#queue.renew(await (await bench()).view(undone.inspection));
    this.#listeners.tell("changed", this);
    return undone.label;
  }

  /** @returns {Promise<boolean>} Whether there is a change to take back. */
  canUndo() {
    return history.canUndo(this.key);
  }

  /** Hears of nothing any more. */
  close() {
    this.#life.abort();
  }
}

/** @param {Entry} entry */
function setting({ path, value }) {
  return {
    make: (/** @type {Inspection} */ draft) => setAt(draft, path, structuredClone(value)),
    path,
    label: path.join("."),
    typed: typeof value === "string",
  };
}
