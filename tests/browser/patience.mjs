/**
 * Waiting for what a page or its store comes to, asked again and again from outside: what is asked within a page
 * (`waitForFunction`) may be taken as answered before its promise is.
 * Not here: what is waited for.
 */

import assert from "node:assert/strict";
import { setTimeout as rest } from "node:timers/promises";

/** Between two questions, and questions at most: a busy machine has half a minute and more [milliseconds]. */
const PAUSE = 50;
const QUESTIONS = 600;

/**
 * @template T
 * @param {() => Promise<T>} ask
 * @param {(answer: T) => boolean} holds
 * @returns {Promise<T>} The first answer that holds, or the last one.
 */
export async function until(ask, holds) {
  let answer = await ask();
  for (let n = 0; n < QUESTIONS && !holds(answer); n += 1) {
    await rest(PAUSE);
    answer = await ask();
  }
  return answer;
}

/** @param {() => Promise<unknown>} ask @param {unknown} wanted What the answer has to come to. @param {string} [what] */
export async function comesTo(ask, wanted, what) {
  assert.deepEqual(await until(ask, (answer) => JSON.stringify(answer) === JSON.stringify(wanted)), wanted, what);
}
