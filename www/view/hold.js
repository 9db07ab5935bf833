/**
 * A button that goes on while it is held down.
 * Not here: what one step is.
 */

/** Until the first further step, and between the further ones [ms]. */
const BEFORE = 450;
const BETWEEN = 110;

/** @type {WeakSet<EventTarget>} */
const ran = new WeakSet();

/** @param {PointerEvent} event On a button. */
export function hold(event) {
  const button = /** @type {HTMLButtonElement} */ (event.currentTarget);
  let timer = setTimeout(again, BEFORE);
  function again() {
    ran.add(button);
    button.click();
    if (!button.disabled) {
      timer = setTimeout(again, BETWEEN);
    }
  }
  const stop = () => clearTimeout(timer);
  for (const end of ["pointerup", "pointerleave", "pointercancel"]) {
    button.addEventListener(end, stop, { once: true });
  }
}

/**
 * Whether a click is the letting go of a button that ran on, and so no step of its own.
 *
 * @param {Event} event
 */
export function letGo(event) {
  return event.isTrusted && event.currentTarget !== null && ran.delete(event.currentTarget);
}
