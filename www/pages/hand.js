/**
 * The camera in hand: what the pages about one camera share. It opens the record, draws again after every change, keeps what was
 * refused beside the place where it was entered, and takes changes back.
 * Not here: how a change is kept (`store/edit.js`); what a page shows.
 *
 * @import { Inspection, View } from "../bench/shapes.js"
 * @import { Path } from "../store/path.js"
 */

import { open } from "../store/edit.js";
import { key } from "../view/links.js";
import { run } from "../view/shell.js";
import { withWay } from "./way.js";

/** The camera's record, as a page has it in hand. */
export class Hand {
  /** @type {Map<string, string>} What was refused, by its place. */
  #refused = new Map();
  /** @type {Map<string, string>} What was last typed, by its place. */
  #typed = new Map();
  /** @type {import("../store/edit.js").Desk} */
  #desk;

  /** @param {import("../store/edit.js").Desk} desk @param {(hand: Hand) => void} draw */
  constructor(desk, draw) {
    this.#desk = desk;
    /** A sentence about what could not be kept and belongs to no place of the page. */
    this.wrong = "";
    /** What has just happened. */
    this.news = "";
    this.draw = () => draw(this);
    desk.on("changed", this.draw);
    desk.on("elsewhere", () => {
      this.news = "Changed in another window meanwhile; this is how it stands now.";
      this.draw();
    });
    desk.on("failed", ({ sentence, path, waiting }) => {
      if (path && !waiting) {
        this.#refused.set(path.join("."), sentence);
      } else {
        this.wrong = sentence;
      }
      this.draw();
    });
  }

  /** @returns {Inspection} */
  get inspection() {
    return this.#desk.inspection;
  }

  /** @returns {View} */
  get view() {
    return this.#desk.view;
  }

  /** @param {Path} path @returns {string} What was refused at this place, or nothing. */
  wrongAt(path) {
    return this.#refused.get(path.join(".")) ?? "";
  }

  /** @param {Path} path @param {string} kept @returns {string} What a field shows: what was typed, also where it was refused. */
  textAt(path, kept) {
    const place = path.join(".");
    return this.#refused.has(place) ? (this.#typed.get(place) ?? kept) : kept;
  }

  /** @param {Path} path @param {unknown} value @returns {Promise<boolean>} Whether it was kept. */
  async change(path, value) {
    const place = path.join(".");
    this.news = "";
    this.wrong = "";
    if (typeof value === "string") {
      this.#typed.set(place, value);
    }
    const entered = this.#desk.change(path, value);
    // What was entered shows at once; what it leads to, when the bench has said so.
    this.draw();
    const kept = await entered;
    if (kept && this.#refused.delete(place)) {
      this.draw();
    }
    return kept;
  }

  /** @param {(draft: Inspection) => void} make @param {string} label @returns {Promise<boolean>} Whether it was kept. */
  apply(make, label) {
    this.news = "";
    this.wrong = "";
    const entered = this.#desk.apply(make, label);
    this.draw();
    return entered;
  }

  /** Takes the last change back and says which kind it was. */
  async undo() {
    try {
      const label = await this.#desk.undo();
      this.#refused.clear();
      this.wrong = "";
      this.news = label === null ? "There is nothing to take back." : `Taken back: ${label.split(".").at(-1)?.replaceAll("_", " ")}.`;
    } catch (error) {
      this.wrong = error instanceof Error ? error.message : String(error);
    }
    this.draw();
  }
}

/** Taking a record in and drawing its page are two tasks: a slow phone answers the finger between them. */
const between = () => new Promise((resolve) => setTimeout(resolve));

/**
 * Runs a page about the camera in hand.
 *
 * @param {(hand: Hand) => void} draw
 * @param {(hand: Hand) => Promise<void>} [before] What the page needs besides.
 */
export function withCamera(draw, before = async () => {}) {
  return run(async () => {
    const hand = new Hand(await open(key), await withWay(draw));
    await before(hand);
    await between();
    hand.draw();
  });
}
