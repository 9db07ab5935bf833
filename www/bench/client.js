/**
 * The bench as the page asks it: one method per question, each a promise; the time of day is added here.
 * Not here: what is measured in a take (`measuring.js`) or in a photo (`lighting.js`); anything that is worked out (the module behind the worker), anything that is kept (`store`).
 *
 * @import { Accepted, ComparisonView, Inspection, Level, LevelPreview, Lists, Place, Sheet, Taken } from "./shapes.js"
 */

import { Lighting } from "./lighting.js";

export { BenchError } from "./error.js";

const now = () => new Date().toISOString();

/** What can be asked of the bench. Every promise can reject with a `BenchError` whose message is a sentence to show. */
export class Bench extends Lighting {
  /** @type {Map<string, { running: boolean, waiting: (() => void) | null, turn: number }>} */
  #newest = new Map();

  /** @returns {Promise<string>} Program and version. */
  version() {
    return this.messenger.ask("version", []);
  }

  /** @returns {Promise<Lists>} Every list that the page offers to choose from. */
  lists() {
    return this.messenger.ask("lists", []);
  }

  /**
   * The places of a dial in dial order, between-mark ones included.
   *
   * @param {string[]} marks Of that dial; empty for the usual series.
   * @param {string} between `whole`, `half` or `third`.
   * @param {string} dial `f_number`, `time` or `film_speed`.
   * @returns {Promise<Place[]>}
   */
  places(marks, between, dial) {
    return this.messenger.ask("places", [marks, between, dial]);
  }

  /**
   * @param {string} kind
   * @returns {Promise<Accepted>} A new inspection, not yet kept.
   */
  newInspection(kind) {
    return this.messenger.ask("new_inspection", [kind, now(), Date.now()]);
  }

  /**
   * @param {Inspection} inspection
   * @returns {Promise<Accepted>} Checked and worked out, its revision raised.
   */
  accept(inspection) {
    return this.messenger.ask("accept", [inspection, now()]);
  }

  /**
   * @param {Inspection} inspection
   * @returns {Promise<Accepted>} What its pages show; its revision stays.
   */
  view(inspection) {
    return this.messenger.ask("view", [inspection]);
  }

  /**
   * @param {Inspection} inspection
   * @param {number} run Index of the run.
   * @param {Level} level
   * @returns {Promise<LevelPreview>}
   */
  previewLevel(inspection, run, level) {
    return this.messenger.ask("preview_level", [inspection, run, level]);
  }

  /**
   * @param {Inspection} inspection
   * @returns {Promise<Sheet>}
   */
  sheet(inspection) {
    return this.messenger.ask("sheet", [inspection, now()]);
  }

  /**
   * @param {Inspection} inspection
   * @returns {Promise<Accepted>} A new inspection of the same camera, not yet kept.
   */
  inspectAgain(inspection) {
    return this.messenger.ask("inspect_again", [inspection, now(), Date.now()]);
  }

  /**
   * @param {Inspection} one
   * @param {Inspection} other
   * @returns {Promise<ComparisonView>} The earlier one before the later one, whichever comes first.
   */
  compare(one, other) {
    return this.messenger.ask("compare", [one, other]);
  }

  /**
   * @param {string} text Of a file.
   * @returns {Promise<Taken>} What it holds.
   */
  readFile(text) {
    return this.messenger.ask("read_file", [text]);
  }

  /**
   * @param {Inspection} a
   * @param {Inspection} b
   * @returns {Promise<boolean>} Whether they hold the same, whatever was worked out.
   */
  same(a, b) {
    return this.messenger.ask("same", [a, b]);
  }

  /**
   * @param {Inspection} inspection
   * @returns {Promise<string>} The text of its file.
   */
  writeFile(inspection) {
    return this.messenger.ask("write_file", [inspection]);
  }

  /**
   * @param {Inspection[]} inspections
   * @returns {Promise<string>} The text of a bench backup.
   */
  writeBench(inspections) {
    return this.messenger.ask("write_bench", [inspections, now()]);
  }

  /**
   * @param {Inspection} inspection
   * @returns {Promise<string>} What its file is called.
   */
  fileName(inspection) {
    return this.messenger.ask("file_name", [inspection]);
  }

  /**
   * A method of which only the newest call counts, for previews while a value is being stepped: a call that was overtaken
   * comes out as `undefined`, and one that had not begun is never begun.
   *
   * @template {"previewLevel" | "places" | "view" | "sheet"} Name
   * @param {Name} name
   * @returns {(...values: Parameters<Bench[Name]>) => Promise<Awaited<ReturnType<Bench[Name]>> | undefined>}
   */
  latest(name) {
    const method = /** @type {(...values: any[]) => Promise<any>} */ (this[name]).bind(this);
    return async (...values) => {
      const state = this.#newest.get(name) ?? { running: false, waiting: null, turn: 0 };
      this.#newest.set(name, state);
      state.turn += 1;
      const turn = state.turn;
      if (state.running) {
        state.waiting?.();
        await new Promise((resolve) => (state.waiting = () => resolve(undefined)));
        if (turn !== state.turn) {
          return undefined;
        }
      }
      state.running = true;
      try {
        const value = await method(...values);
        return turn === state.turn ? value : undefined;
      } catch (error) {
        if (turn === state.turn) {
          throw error;
        }
        return undefined;
      } finally {
        state.running = false;
        const next = state.waiting;
        state.waiting = null;
        next?.();
      }
    };
  }
}

/** @type {Bench | undefined} */
let only;

/**
 * The one bench of this page; its worker starts with the first question.
 *
 * @returns {Promise<Bench>}
 */
export async function bench() {
  only ??= new Bench();
  return only;
}
