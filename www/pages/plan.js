/**
 * The order in which a dial is fired through: which marked time is asked for now, which shots were caught for it, which did not
 * count, which times are left out.
 * Not here: hearing a shot (`listening.js`); putting shots against marked times, which the bench does for the whole take.
 */

/**
 * @typedef {object} Caught A shot as it was caught.
 * @property {string} mark What was asked for.
 * @property {string} words Its provisional time.
 * @property {number} start_s Where it stands in the take.
 * @property {number} end_s
 * @property {boolean} counts Whether the person lets it count.
 */

/** Bulb and self-timer stand where a mark would. */
export const SPECIAL = { bulb: "Bulb", "self-timer": "Self-timer" };

/**
 * @param {readonly string[]} marks In dial order, slow to fast.
 * @param {string} direction `fast` or `slow`: where it begins.
 * @param {number} shots For each marked time.
 * @returns {string[]} A mark for each shot.
 */
export function order(marks, direction, shots) {
  const through = direction === "fast" ? [...marks].reverse() : marks;
  return through.flatMap((mark) => Array.from({ length: shots }, () => mark));
}

/** Only for how long to wait for a shot to end, never for a result. @param {string} mark @returns {number} In seconds. */
export function about_s(mark) {
  const [over = "", under = "1"] = mark.replace(",", ".").split("/");
  const seconds = Number(over) / Number(under);
  return Number.isFinite(seconds) ? seconds : 0;
}

/** Goes through a plan shot by shot. */
export class Plan {
  /** @type {string[]} What is still to be fired. */
  #ahead;
  /** @type {Caught[]} */
  caught = [];

  /** @param {readonly string[]} marks A mark for each shot. */
  constructor(marks) {
    this.#ahead = [...marks];
  }

  /** @returns {string} The mark that is asked for now, or empty. */
  get now() {
    return this.#ahead[0] ?? "";
  }

  /** @returns {string} The next one that differs, or empty. */
  get then() {
    return this.#ahead.find((mark) => mark !== this.now) ?? "";
  }

  /** @returns {{ nth: number, of: number }} Which shot of its mark is asked for now. */
  get count() {
    const left = this.#ahead.findIndex((mark) => mark !== this.now);
    const still = left < 0 ? this.#ahead.length : left;
    const before = this.caught.filter((one) => one.mark === this.now && one.counts).length;
    return { nth: before + 1, of: before + still };
  }

  /** @returns {string[]} What was asked and fired, in order. */
  get asked() {
    return this.caught.map((one) => one.mark);
  }

  /** @returns {boolean} Whether everything was fired or left out. */
  get done() {
    return this.#ahead.length === 0;
  }

  /** @param {Omit<Caught, "mark" | "counts">} shot */
  take(shot) {
    this.caught.push({ ...shot, mark: this.now, counts: true });
    this.#ahead.shift();
  }

  /** The last one did not count: its mark is asked once more. */
  again() {
    const last = this.caught.findLast((one) => one.counts);
    if (last) {
      last.counts = false;
      this.#ahead.unshift(last.mark);
    }
  }

  /** Leaves out what is left of this mark. */
  skip() {
    const now = this.now;
    while (this.#ahead.length > 0 && this.#ahead[0] === now) {
      this.#ahead.shift();
    }
  }
}
