/**
 * The error that every request to the store can end in, with a sentence to show, and the way from the browser's errors to it.
 * Not here: what the bench refuses, which is a `BenchError`.
 */

/** Why something could not be kept or found. */
export class StoreError extends Error {
  /**
   * @param {string} sentence To be shown.
   * @param {{ full?: boolean }} [about] `full`: there is no room left.
   */
  constructor(sentence, { full = false } = {}) {
    super(sentence);
    this.name = "StoreError";
    /** Whether it failed for want of room. */
    this.full = full;
  }
}

/**
 * @param {unknown} error
 * @returns {string} The browser's name for it, or an empty text.
 */
export function nameOf(error) {
  return error instanceof Error || error instanceof DOMException ? error.name : "";
}

/**
 * Puts an error of the browser into a sentence; errors that are sentences already pass.
 *
 * @param {unknown} error
 * @returns {unknown}
 */
export function said(error) {
  switch (nameOf(error)) {
    case "QuotaExceededError":
      return new StoreError(
        "The phone has no room left: this change is not kept yet; nothing was lost. Take out a backup and empty the bin, then try again.",
        { full: true },
      );
    case "VersionError":
      return new StoreError("This page is older than the bench kept on this phone. Reload it; nothing was lost.");
    case "InvalidStateError":
    case "UnknownError":
    case "AbortError":
    case "TimeoutError":
      return new StoreError("The phone's store did not answer; what was kept before is kept. Try again, or reload the page.");
    case "SecurityError":
    case "NotSupportedError":
      return new StoreError("This browser keeps nothing for this page, perhaps because the window is private. Use an ordinary window.");
    default:
      return error;
  }
}
