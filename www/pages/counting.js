/**
 * Counts each shot of a running take once, although it is heard in window after window; says how much must be looked at for that.
 * Not here: hearing (the bench); which time is asked for (`plan.js`).
 *
 * @import { HeardShot } from "../bench/shapes.js"
 * @import { Plan } from "./plan.js"
 */

import { about_s, SPECIAL } from "./plan.js";

/** How much is looked at, at least, and of what is held by hand [s]. */
const WINDOW = 6;
const LONGEST_WINDOW = 40;
/** A shot counts when nothing more has come for this long [s]; what begins this close behind one is its echo [s]. */
const SETTLED = 0.25;
const ECHO = 0.12;
/** Share of a marked time within which nothing else is a new shot: a slow one has its end still to come. */
const MEANWHILE = 1.25;

/** Counts the shots of one take. */
export class Counter {
  /** What begins before this moment of the take was counted or does not count [s]. */
  #from_s = 0;

  /** @param {Plan} plan */
  constructor(plan) {
    this.plan = plan;
  }

  /** @returns {number} How much of the take must be looked at now [s]. */
  get window_s() {
    const mark = this.plan.now;
    return mark in SPECIAL ? LONGEST_WINDOW : Math.max(WINDOW, 3 * about_s(mark) + 3);
  }

  /** What came before this moment of the take does not count. @param {number} moment_s */
  begin(moment_s) {
    this.#from_s = moment_s;
  }

  /**
   * @param {readonly HeardShot[]} heard
   * @param {number} from_s Where the window begins in the take.
   * @param {number} until_s Where it ends.
   * @param {boolean} over Whether nothing more will come.
   * @returns {boolean} Whether there was a new one.
   */
  count(heard, from_s, until_s, over) {
    const before = this.plan.caught.length;
    for (const one of heard) {
      const [start_s, end_s] = [from_s + one.start_s, from_s + one.end_s];
      const meanwhile = MEANWHILE * about_s(this.plan.now);
      const ended = over || Math.max(end_s, start_s + meanwhile) + SETTLED <= until_s;
      if (start_s > this.#from_s && ended && !this.plan.done) {
        this.plan.take({ words: one.words, start_s, end_s });
        this.#from_s = Math.max(end_s + ECHO, start_s + meanwhile);
      }
    }
    return this.plan.caught.length > before;
  }
}
