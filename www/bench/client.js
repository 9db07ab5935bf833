/**
 * The bench as the page asks it: one method per question, each a promise; the time of day is added here.
 * Not here: what is measured in a take (`measuring.js`) or in a photo (`lighting.js`); anything that is worked out (the module behind the worker), anything that is kept (`store`).
 *
 * @import { Accepted, ComparisonView, Inspection, Level, LevelPreview, Lists, Place, Sheet, Taken } from "./shapes.js"
 */

import { Lighting } from "./lighting.js";
import { fetchedLists } from "./lists.js";
import { Newest } from "./newest.js";

export { BenchError } from "./error.js";

const now = () => new Date().toISOString();

/** What can be asked of the bench. Every promise can reject with a `BenchError` whose message is a sentence to show. */
export class Bench extends Lighting {
  #newest = new Newest();

  /** @param {string} module That this page will need, where several answer a question. */
  want(module) {
    this.messenger.wanted = module;
  }

  /** @returns {Promise<string>} Program and version. */
  version() {
    return this.messenger.ask("version", []);
  }

  /** @returns {Promise<Lists>} Every list that the page offers to choose from. */
  lists() {
    return fetchedLists();
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
   * A method of which only the newest call counts, for previews while a value is being stepped.
   *
   * @template {"previewLevel" | "places" | "view" | "sheet"} Name
   * @param {Name} name
   * @returns {(...values: Parameters<Bench[Name]>) => Promise<Awaited<ReturnType<Bench[Name]>> | undefined>}
   */
  latest(name) {
    const method = /** @type {(...values: any[]) => Promise<any>} */ (this[name]).bind(this);
    return (...values) => this.#newest.ask(name, () => method(...values));
  }
}

/** @type {Bench | undefined} */
let only;

/**
 * The one bench of this page; its worker starts with the first question.
 *
 * @param {"paper"} [wanted] Said before the first question by a page that will ask for what goes onto paper or into files: one module
 *   answers that and all the rest.
 * @returns {Promise<Bench>}
 */
export async function bench(wanted) {
  only ??= new Bench();
  if (wanted) {
    only.want(wanted);
  }
  return only;
}
