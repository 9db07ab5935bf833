/**
 * Dragging a row of a list to another place by its handle, with finger or mouse; the buttons beside it do the same.
 * Not here: what a new order means, which the page says.
 */

/**
 * Begins a drag at a handle inside a row (`li`) of a list.
 *
 * @param {PointerEvent} event
 * @param {(from: number, to: number) => void} move Places in the list, from 0.
 */
export function drag(event, move) {
  const handle = /** @type {HTMLElement} */ (event.currentTarget);
  const row = handle.closest("li");
  const list = row?.parentElement;
  if (!row || !list) {
    return;
  }
  event.preventDefault();
  handle.setPointerCapture(event.pointerId);
  const rows = [...list.children];
  const from = rows.indexOf(row);
  row.classList.add("dragged");
  const under = (/** @type {PointerEvent} */ now) => {
    const at = rows.findIndex((one) => now.clientY < one.getBoundingClientRect().bottom);
    return at < 0 ? rows.length - 1 : at;
  };
  const mark = (/** @type {PointerEvent} */ now) => {
    rows.forEach((one, i) => one.classList.toggle("target", i === under(now) && i !== from));
  };
  const end = (/** @type {PointerEvent} */ now) => {
    handle.removeEventListener("pointermove", mark);
    handle.removeEventListener("pointerup", end);
    handle.removeEventListener("pointercancel", end);
    rows.forEach((one) => one.classList.remove("target", "dragged"));
    const to = under(now);
    if (now.type === "pointerup" && to !== from) {
      move(from, to);
    }
  };
  handle.addEventListener("pointermove", mark);
  handle.addEventListener("pointerup", end);
  handle.addEventListener("pointercancel", end);
}
