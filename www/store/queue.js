/**
 * The edits of one camera that are on their way into the store, in order: as many at a time as there are, a refused one alone.
 * Not here: how a page makes an edit (`edit`); how edits get into the store (`commit`).
 *
 * @import { Accepted } from "../bench/shapes.js"
 * @import { Edit } from "./commit.js"
 * @import { Path } from "./path.js"
 */

import { bench } from "../bench/client.js";
import { commit, isWaiting } from "./commit.js";
import { get } from "./inspections.js";
import * as journal from "./journal.js";
import { differences } from "./path.js";

/**
 * @typedef {object} Failure
 * @property {string} sentence
 * @property {Path | null} path Where it was entered, if at one place.
 * @property {string} label
 * @property {boolean} waiting It is not kept yet and not lost, and is tried again with the next change.
 *
 * @typedef {object} Hearer
 * @property {() => void} changed
 * @property {() => void} elsewhere
 * @property {(failure: Failure) => void} failed
 */

/** Keeps one after the other. */
export class Queue {
  /** @type {Edit[]} */
  #waiting = [];
  /** @type {Promise<void> | null} */
  #work = null;
  #again = false;
  #stale = false;

  /**
   * @param {string} key
   * @param {Accepted} kept The record as kept.
   * @param {Hearer} hearer
   */
  constructor(key, kept, hearer) {
    this.key = key;
    this.kept = kept;
    /** The record with everything that is waiting. */
    this.draft = kept.inspection;
    this.hearer = hearer;
  }

  /**
   * Writes an edit down and sends it on its way. Throws where it cannot be made.
   *
   * @param {Pick<Edit, "make" | "label" | "typed" | "path">} edit
   * @returns {Promise<boolean>} Whether it was kept.
   */
  enter(edit) {
    const draft = structuredClone(this.draft);
    edit.make(draft);
    const entries = differences(this.draft, draft).filter(({ path }) => path.length > 0);
    entries.forEach(({ path, value }) => journal.note(this.key, path, value));
    this.draft = draft;
    return new Promise((settle) => {
      this.#waiting.push({ ...edit, entries, settle });
      this.start();
    });
  }

  /**
   * Takes edits up that are in the journal already.
   *
   * @param {Edit[]} edits
   */
  take(edits) {
    this.#waiting.push(...edits);
    this.#redraft();
  }

  /** Sets to work on what is waiting. */
  start() {
    this.#again = true;
    this.#work ??= this.#run().finally(() => (this.#work = null));
  }

  /** Looks at what the store holds now. */
  refresh() {
    this.#stale = true;
    this.start();
  }

  /** Resolves when nothing is on its way any more. */
  async settled() {
    await this.#work;
  }

  /**
   * The record is another one now.
   *
   * @param {Accepted} kept
   */
  renew(kept) {
    this.kept = kept;
    this.#redraft();
  }

  async #run() {
    while (this.#again) {
      this.#again = false;
      // Edits that are made in one go are kept in one go.
      await null;
      while (this.#waiting.length > 0 && (await this.#keep([...this.#waiting])));
      if (this.#stale) {
        this.#stale = false;
        await this.#reload();
      }
    }
  }

  /**
   * @param {Edit[]} batch
   * @returns {Promise<boolean>} Whether to go on.
   */
  async #keep(batch) {
    try {
      const { elsewhere, ...kept } = await commit(this.key, this.kept.inspection, batch);
      this.kept = kept;
      this.#done(batch, true);
      this.hearer.changed();
      if (elsewhere) {
        this.hearer.elsewhere();
      }
      return true;
    } catch (error) {
      return this.#failed(batch, error);
    }
  }

  /**
   * @param {Edit[]} batch
   * @param {unknown} error
   */
  async #failed(batch, error) {
    const waiting = isWaiting(error);
    if (!waiting && batch.length > 1) {
      // One of them is to blame, and only that one goes.
      for (const edit of batch) {
        if (!(await this.#keep([edit]))) {
          return false;
        }
      }
      return true;
    }
    const sentence = error instanceof Error ? error.message : String(error);
    const { path = null, label = "" } = batch.at(-1) ?? {};
    if (waiting) {
      batch.forEach((edit) => edit.settle(false));
    } else {
      this.#done(batch, false);
    }
    this.hearer.failed({ sentence, path, label, waiting });
    return !waiting;
  }

  /**
   * @param {Edit[]} batch
   * @param {boolean} kept
   */
  #done(batch, kept) {
    this.#waiting = this.#waiting.filter((edit) => !batch.includes(edit));
    journal.clear(this.key, batch.flatMap((edit) => edit.entries));
    this.#redraft();
    batch.forEach((edit) => edit.settle(kept));
  }

  #redraft() {
    this.draft = this.kept.inspection;
    for (const edit of this.#waiting) {
      const draft = structuredClone(this.draft);
      try {
        edit.make(draft);
        this.draft = draft;
      } catch {
        // Told when it is its turn.
      }
    }
  }

  async #reload() {
    try {
      const now = (await get(this.key))?.inspection;
      const known = this.kept.inspection;
      if (now && (now.revision !== known.revision || now.updated !== known.updated)) {
        this.renew(await (await bench()).view(now));
        this.hearer.elsewhere();
      }
    } catch {
      // What cannot be read now is read with the next commit.
    }
  }
}
