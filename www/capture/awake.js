/**
 * Keeps the screen on while a take runs, where the phone lets a page do that.
 * Not here: what ends a take (`microphone.js`).
 */

/** @returns {Promise<() => void>} Lets the screen go dark again. */
export async function keepAwake() {
  try {
    const lock = await navigator.wakeLock.request("screen");
    return () => void lock.release().catch(() => {});
  } catch {
    // Without leave the phone's own time to dark holds; a page out of sight ends the take, and says so.
    return () => {};
  }
}
