/**
 * Says over all tabs that something runs which must not be cut off: a take, a lamp that is lit, a clip that is being read. While it
 * does, no new version of the program takes over.
 * Not here: what runs (`capture`, `pages`); the taking over (`program.js`).
 */

const NAME = "lampblack.busy";

/** @returns {() => void} To be called when it is over; a page that is left has it over by that. */
export function busy() {
  let over = () => {};
  const until = new Promise((resolve) => (over = () => resolve(undefined)));
  navigator.locks?.request(NAME, { mode: "shared" }, () => until).catch(() => {});
  return over;
}

/**
 * Does something while nothing runs in any tab, and nothing can begin.
 *
 * @param {() => Promise<unknown>} work
 * @returns {Promise<boolean>} Whether it was done; not where something runs.
 */
export async function whenIdle(work) {
  if (!navigator.locks) {
    await work();
    return true;
  }
  return await navigator.locks.request(NAME, { ifAvailable: true }, async (lock) => {
    if (lock) {
      await work();
    }
    return lock !== null;
  });
}
