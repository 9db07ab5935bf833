/**
 * Keeps the screen on while something runs that must not be cut off, where the phone lets a page do that, and says over all tabs
 * that it runs, so that no new version of the program takes over meanwhile.
 * Not here: what ends it (`microphone.js`, the pages).
 */

import { busy } from "../offline/busy.js";

/** @returns {() => void} Lets the screen go dark again; to be called when it is over. */
export function keepAwake() {
  const over = busy();
  const life = new AbortController();
  const { signal } = life;
  const ask = async () => {
    // Without leave the phone's own time to dark holds; a page out of sight ends a take, and says so.
    const held = await navigator.wakeLock?.request("screen").catch(() => undefined);
    const release = () => held?.release().catch(() => {});
    if (signal.aborted) {
      release();
    } else {
      signal.addEventListener("abort", release);
    }
  };
  // The phone lets go of the screen when the page goes out of sight.
  document.addEventListener("visibilitychange", () => document.hidden || ask(), { signal });
  ask();
  return () => {
    life.abort();
    over();
  };
}
