/**
 * Asking the browser to keep the store for good, once, and how full it is.
 * Not here: the backup, which is what helps where the browser says no.
 */

import * as settings from "./settings.js";

/**
 * Asks after the first record was kept, from a tap; the answer is remembered.
 *
 * @returns {Promise<boolean | null>} Whether the browser will keep it; `null` where it cannot say.
 */
export async function askOnce() {
  const before = await settings.get("persisted");
  if (typeof before === "boolean") {
    return answer();
  }
  if (!navigator.storage?.persist) {
    return null;
  }
  const kept = await navigator.storage.persist();
  await settings.set("persisted", kept);
  return kept;
}

/**
 * The answer as it stands now; a browser may say yes later, when the page was installed.
 *
 * @returns {Promise<boolean | null>}
 */
export async function answer() {
  return (await navigator.storage?.persisted?.()) ?? null;
}

/**
 * @returns {Promise<{ usage: number, quota: number } | null>} Bytes taken and bytes that may be; `null` where it cannot say.
 */
export async function estimate() {
  const { usage, quota } = (await navigator.storage?.estimate?.()) ?? {};
  return usage === undefined || quota === undefined ? null : { usage, quota };
}
