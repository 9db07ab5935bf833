/**
 * The error that taking something in or handing it over can end in, with a sentence to show.
 * Not here: what the bench or the store refuse.
 */

/** Why a picture or a file could not be taken or handed over. */
export class CaptureError extends Error {
  /** @param {string} sentence To be shown. */
  constructor(sentence) {
    super(sentence);
    this.name = "CaptureError";
  }
}
