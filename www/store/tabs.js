/**
 * The word between the tabs: one writer at a time for a camera, and who changed something tells the others.
 * Not here: the store itself (`database`).
 */

/**
 * One writer at a time for a camera, over all tabs.
 *
 * @template T
 * @param {string} key
 * @param {() => Promise<T>} work
 * @returns {Promise<T>}
 */
export async function asWriter(key, work) {
  return navigator.locks ? await navigator.locks.request(`lampblack:${key}`, work) : await work();
}

const channel = typeof BroadcastChannel === "function" ? new BroadcastChannel("lampblack") : null;

/**
 * Tells the other tabs that something of a camera was changed.
 *
 * @param {string} key
 */
export function announce(key) {
  channel?.postMessage({ changed: key });
}

/**
 * Hears of changes made in other tabs.
 *
 * @param {(key: string) => void} hear
 * @returns {() => void} Stops it.
 */
export function onElsewhere(hear) {
  /** @param {MessageEvent} event */
  const listen = (event) => {
    if (typeof event.data?.changed === "string") {
      hear(event.data.changed);
    }
  };
  channel?.addEventListener("message", listen);
  return () => channel?.removeEventListener("message", listen);
}
