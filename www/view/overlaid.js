/**
 * A picture with what was measured drawn over it; a tap on it says where, and so does Enter, for its middle.
 * Not here: finding anything in it (the bench).
 *
 * @import { Drawing } from "../bench/shapes.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { drawing } from "../plot/drawing.js";

/**
 * @param {object} what
 * @param {string} what.address Of the picture; empty where it is not at hand, and only the drawing is shown.
 * @param {string} what.words What it shows.
 * @param {Drawing | null} what.over
 * @param {(at: { x: number, y: number }) => void} [what.tap] Shares of the width and of the height.
 */
export function overlaid({ address, words, over, tap }) {
  const place = (/** @type {MouseEvent} */ event) => {
    const box = /** @type {Element} */ (event.currentTarget).getBoundingClientRect();
    tap?.({ x: (event.clientX - box.left) / box.width, y: (event.clientY - box.top) / box.height });
  };
  const key = (/** @type {KeyboardEvent} */ event) => {
    if (event.key === "Enter" || event.key === " ") {
      event.preventDefault();
      tap?.({ x: 0.5, y: 0.5 });
    }
  };
  const shown = html`${address ? html`<img src=${address} alt=${words} />` : nothing}${over ? drawing(over) : nothing}`;
  return tap
    ? html`<div class="overlaid" role="button" tabindex="0" aria-label="${words}. Tap the middle of what is to be measured" @click=${place} @keydown=${key}>${shown}</div>`
    : html`<div class="overlaid ${address ? "" : "bare"}">${shown}</div>`;
}
