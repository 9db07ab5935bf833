/**
 * Parts of a page that are put in after it has first shown, one piece to each frame from top to bottom, so that a slow phone shows the
 * top at once and answers the finger meanwhile. Once all are in, everything shows with its first drawing.
 * Not here: which parts can wait, which the pages say.
 */

import { AsyncDirective, directive } from "../vendor/lit-html/async-directive.js";
import { nothing } from "../vendor/lit-html/lit-html.js";
import { refusal } from "./notice.js";

/** As long as pieces are put in at a time, so that drawing them leaves room in the frame [milliseconds]. */
const SLICE = 3;
/** A page that is not seen draws no frame; its parts are put in after this time all the same [milliseconds]. */
const UNSEEN = 100;

/** @type {Later[]} In the order of the page. */
let waiting = [];
let over = false;
/** @type {Promise<void> | undefined} */
let working;

/** @returns {Promise<void>} When what is on the page has been drawn. */
export const drawn = () => new Promise((resolve) => {
  const timer = setTimeout(resolve, UNSEEN);
  requestAnimationFrame(() => setTimeout(() => {
    clearTimeout(timer);
    resolve();
  }));
});

/** @type {{ inPlace(): Promise<void>, finish(): void } | null} */
let page = null;
/** @param {NonNullable<typeof page>} drawing The page itself, which comes before all of its parts that can wait. */
export const first = (drawing) => { page = drawing; };

async function work() {
  await page?.inPlace().catch(() => {});
  while (waiting.length > 0) {
    await drawn();
    const until = performance.now() + SLICE;
    do {
      waiting.shift()?.putIn();
    } while (waiting.length > 0 && performance.now() < until);
  }
  over = true;
}

/** @returns {Promise<void>} When all parts of what has been shown so far are in. */
export const settled = async () => working;

/** Puts in all that waits, for whoever needs the page whole: a printer, or an address that points at a place in it. */
export function whole() {
  page?.finish();
  const left = waiting;
  waiting = [];
  over = true;
  left.forEach((one) => one.putIn());
}

addEventListener("beforeprint", whole);

class Later extends AsyncDirective {
  /** @type {() => unknown} */
  #make = () => nothing;
  #in = false;

  /** @param {() => unknown} make @param {unknown} [meanwhile] @returns {unknown} */
  render(make, meanwhile = nothing) {
    this.#make = make;
    if (over || this.#in) {
      this.#in = true;
      return make();
    }
    if (!waiting.includes(this)) {
      waiting.push(this);
      working ??= work();
    }
    return meanwhile;
  }

  putIn() {
    if (!this.isConnected || this.#in) {
      return;
    }
    this.#in = true;
    try {
      this.setValue(this.#make());
    } catch (error) {
      // Those below it can still be shown.
      console.error(error);
      this.setValue(refusal(error));
    }
  }
}

/** @type {(make: () => unknown, meanwhile?: unknown) => unknown} A part of a page that can wait until the rest has shown, and what stands there until then. */
export const later = directive(Later);

/**
 * The parts of a list that can wait, after a first few that do not.
 *
 * @template T
 * @param {number} first So many show with the page.
 * @param {(one: T, i: number) => unknown} make
 * @returns {(one: T, i: number) => unknown} For each of the list.
 */
export const laterThan = (first, make) => (one, i) => (i < first ? make(one, i) : later(() => make(one, i)));
