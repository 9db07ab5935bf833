/**
 * Every list that the page offers to choose from: a file that the build wrote, so that it is there before any module is.
 * Not here: what stands in it (`record::lists`).
 *
 * @import { Lists } from "./shapes.js"
 */

import { BenchError, UNLOADED } from "./error.js";

const LISTS = new URL("./lists.json", import.meta.url);

/** @returns {Promise<Lists>} Rejects with a `BenchError` where the file cannot be fetched. */
export async function fetchedLists() {
  try {
    const answer = await fetch(LISTS);
    if (answer.ok) {
      return await answer.json();
    }
    console.warn(`the lists could not be loaded: ${answer.status}`);
  } catch (error) {
    console.warn(`the lists could not be loaded: ${String(error)}`);
  }
  throw new BenchError(UNLOADED, { unloaded: true });
}
