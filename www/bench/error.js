/**
 * The error that every question to the bench can end in, with a sentence to show.
 * Not here: what the sentences say, except where the bench itself gave out.
 */

/** The sentence for a trap: what was kept is kept. */
export const INSIDE = "Something went wrong inside; your camera is kept. Try again.";
/** The sentence for a module that could not be fetched. */
export const UNLOADED = "The bench could not be loaded; what you entered is kept. Reload the page, with a connection if this is the first time.";

/** Why a question to the bench had no answer. */
export class BenchError extends Error {
  /**
   * @param {string} sentence To be shown.
   * @param {{ inside?: boolean, unloaded?: boolean }} [about] `inside`: the bench gave out, the question itself may be sound;
   *   `unloaded`: it is not there at all.
   */
  constructor(sentence, { inside = false, unloaded = false } = {}) {
    super(sentence);
    this.name = "BenchError";
    /** Whether the bench itself gave out, so that the same question may have an answer next time. */
    this.inside = inside;
    /** Whether the bench could not be fetched, so that no question has an answer yet. */
    this.unloaded = unloaded;
  }
}
