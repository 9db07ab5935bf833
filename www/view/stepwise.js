/**
 * The first drawing of a page, made out of sight a few milliseconds at a time and put in its place whole: a slow phone answers the
 * finger meanwhile, and nothing moves that is being read.
 * Not here: parts that come after the page has shown (`later.js`).
 */

import { isTemplateResult } from "../vendor/lit-html/directive-helpers.js";
import { noChange, render } from "../vendor/lit-html/lit-html.js";

/** @import { TemplateResult } from "../vendor/lit-html/lit-html.js" */

/** As long as steps are made at a time; on a slow phone one more step may follow [milliseconds]. */
const SLICE = 3;
/** Templates within templates that are taken apart; what is deeper is one step. */
const DEPTH = 4;

const channel = new MessageChannel();
/** Another task: unlike a timer it is not held back. @param {() => void} work */
function soon(work) {
  channel.port1.onmessage = work;
  channel.port2.postMessage(null);
}

/** @param {unknown} value @returns {boolean} Whether it costs nothing to put in. */
const isPlain = (value) => value === null || typeof value !== "object";

/**
 * What leads to a value when rendered one after another: each puts in one more part and leaves the others as they are. An attribute may
 * have any value but a list, which would be taken apart like one of the page.
 *
 * @param {unknown} value
 * @param {(part: unknown) => unknown} [around] What the part stands in.
 * @param {number} [depth]
 * @returns {Generator<unknown, void>} In the order of the page, since parts that come later queue up in it.
 */
export function* steps(value, around = (part) => part, depth = 0) {
  const parts = depth > DEPTH ? null : Array.isArray(value) ? value : isTemplateResult(value) ? /** @type {TemplateResult} */ (value).values : null;
  if (!parts) {
    yield around(value);
    return;
  }
  const put = (/** @type {unknown[]} */ values) => around(Array.isArray(value) ? values : { .../** @type {TemplateResult} */ (value), values });
  const blank = parts.map(() => noChange);
  yield put(parts.map((part) => (isPlain(part) ? part : noChange)));
  for (const [i, part] of parts.entries()) {
    if (!isPlain(part)) {
      yield* steps(part, (inner) => put(blank.map((none, j) => (i === j ? inner : none))), depth + 1);
    }
  }
}

/** A page's main part: drawn in steps at first, and at once from then on. */
export class Drawing {
  /** Where lit-html keeps what it drew; its nodes go from here into the page, and it finds them there. */
  #root = document.createDocumentFragment();
  /** @type {unknown} */
  #newest = null;
  /** What is still to be made of what was shown first. @type {{ main: unknown, steps: Iterator<unknown, void> } | null} */
  #first = null;
  #inPlace = false;
  #put;
  #slice;
  /** Who waits for it. @type {{ come: () => void, fail: (error: unknown) => void }[]} */
  #waiting = [];

  /**
   * @param {(drawn: Node) => void} put Puts the first drawing in its place.
   * @param {number} [slice] As long as steps are made at a time [milliseconds].
   */
  constructor(put, slice = SLICE) {
    this.#put = put;
    this.#slice = slice;
  }

  /** @param {unknown} main What the page shows; the newest counts. */
  draw(main) {
    this.#newest = main;
    if (this.#inPlace) {
      render(main, this.#root);
    } else if (!this.#first) {
      this.#begin();
    }
  }

  /** Makes what is left of the first drawing at once. */
  finish() {
    if (this.#first && !this.#inPlace) {
      this.#trying(() => this.#place(null));
    }
  }

  /** @returns {Promise<void>} When the first drawing is in its place; fails with what went wrong in it. */
  inPlace() {
    if (this.#inPlace) {
      return Promise.resolve();
    }
    return new Promise((come, fail) => this.#waiting.push({ come, fail }));
  }

  #begin() {
    this.#first = { main: this.#newest, steps: steps(this.#newest) };
    this.#work();
  }

  #work() {
    this.#trying(() => {
      const until = performance.now() + this.#slice;
      while (this.#first) {
        const next = this.#first.steps.next();
        if (next.done) {
          this.#place(this.#first.main);
        } else {
          render(next.value, this.#root);
          if (performance.now() >= until) {
            soon(() => this.#work());
            return;
          }
        }
      }
    });
  }

  /** @param {unknown} made What has been made already. */
  #place(made) {
    this.#first = null;
    if (made !== this.#newest) {
      render(this.#newest, this.#root);
    }
    this.#inPlace = true;
    this.#put(this.#root);
    this.#waiting.forEach(({ come }) => come());
    this.#waiting = [];
  }

  /**
   * What fails is told to whoever waits, and the next drawing begins anew; where a newer one is to be shown by then, it is begun instead.
   *
   * @param {() => void} work
   */
  #trying(work) {
    try {
      work();
    } catch (error) {
      const outdated = this.#first !== null && this.#first.main !== this.#newest;
      [this.#first, this.#root] = [null, document.createDocumentFragment()];
      if (outdated) {
        console.error(error);
        this.#begin();
        return;
      }
      const waiting = this.#waiting;
      this.#waiting = [];
      waiting.forEach(({ fail }) => fail(error));
      throw error;
    }
  }
}
