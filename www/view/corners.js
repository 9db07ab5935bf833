/**
 * A photo with the four corners of a frame on it, dragged with a finger or walked with the arrow keys, and a glass that enlarges the
 * one in hand.
 * Not here: what lies within them (the bench).
 */

import { html, nothing, svg } from "../vendor/lit-html/lit-html.js";

/** How far a key moves a corner, and with Shift, as shares of the picture. */
const [STEP, FINE] = [0.01, 0.001];
/** Side of the glass, and what of the picture it shows, as shares of the longer side. */
const [GLASS, SEEN] = [0.3, 0.08];
export const NAMES = ["upper left", "upper right", "lower right", "lower left"];

/** @typedef {{ width: number, height: number }} Size */

/** Which corner is in hand; -1 for none. */
let held = -1;

/** @param {number[]} corners x and y by turns, in shares. @param {number} i @param {number} x @param {number} y */
function moved(corners, i, x, y) {
  const clamp = (/** @type {number} */ value) => Math.min(Math.max(value, 0), 1);
  return corners.map((value, at) => (at === 2 * i ? clamp(x) : at === 2 * i + 1 ? clamp(y) : value));
}

/** @param {string} address @param {Size} size @param {number} x @param {number} y In the corner of the picture that is farthest from it. */
function glass(address, size, x, y) {
  const longer = Math.max(size.width, size.height);
  const [side, seen] = [GLASS * longer, SEEN * longer];
  const [left, top] = [x > size.width / 2 ? 0 : size.width - side, y > size.height / 2 ? 0 : size.height - side];
  return svg`<g class="glass" aria-hidden="true">
    <svg x=${left} y=${top} width=${side} height=${side} viewBox="${x - seen / 2} ${y - seen / 2} ${seen} ${seen}">
      <rect class="glass-ground" x=${x - seen / 2} y=${y - seen / 2} width=${seen} height=${seen} />
      <image href=${address} x="0" y="0" width=${size.width} height=${size.height} preserveAspectRatio="none" />
      <path class="glass-cross" d="M${x - seen / 2} ${y}H${x + seen / 2}M${x} ${y - seen / 2}V${y + seen / 2}" />
    </svg>
    <rect class="glass-rim" x=${left} y=${top} width=${side} height=${side} />
  </g>`;
}

/**
 * @param {object} what
 * @param {string} what.address Of the picture.
 * @param {string} what.words What it shows.
 * @param {Size} what.size Of the picture that is shown.
 * @param {number[]} what.corners x and y by turns, in shares of width and height.
 * @param {readonly number[]} what.taken As the bench took them, the same way; empty before.
 * @param {(corners: number[]) => void} what.put
 * @param {() => void} what.again Draws the page once more.
 */
export function cornersOn({ address, words, size, corners, taken, put, again }) {
  const at = (/** @type {readonly number[]} */ list, /** @type {number} */ i) => ({ x: (list[2 * i] ?? 0) * size.width, y: (list[2 * i + 1] ?? 0) * size.height });
  const outline = (/** @type {readonly number[]} */ list) => `M${NAMES.map((_, i) => `${at(list, i).x} ${at(list, i).y}`).join("L")}Z`;
  // The glass goes with the hand.
  const leave = () => {
    held = -1;
    again();
  };
  const down = (/** @type {PointerEvent} */ event) => {
    const sheet = /** @type {SVGElement} */ (event.currentTarget);
    const box = sheet.getBoundingClientRect();
    const place = (/** @type {PointerEvent} */ one) => ({ x: (one.clientX - box.left) / box.width, y: (one.clientY - box.top) / box.height });
    const from = place(event);
    const far = (/** @type {number} */ i) => Math.hypot(((corners[2 * i] ?? 0) - from.x) * box.width, ((corners[2 * i + 1] ?? 0) - from.y) * box.height);
    const nearest = NAMES.map((_, i) => i).reduce((best, i) => (far(i) < far(best) ? i : best));
    event.preventDefault();
    sheet.setPointerCapture(event.pointerId);
    held = nearest;
    // The corner moves as the finger does, from where it is, so that the finger need not hide it.
    const start = { x: corners[2 * nearest] ?? 0, y: corners[2 * nearest + 1] ?? 0 };
    again();
    const move = (/** @type {PointerEvent} */ one) => {
      const to = place(one);
      put(moved(corners, nearest, start.x + to.x - from.x, start.y + to.y - from.y));
    };
    const end = () => {
      for (const [name, hear] of /** @type {const} */ ([["pointermove", move], ["pointerup", end], ["pointercancel", end]])) {
        sheet.removeEventListener(name, /** @type {EventListener} */ (hear));
      }
      leave();
    };
    sheet.addEventListener("pointermove", move);
    sheet.addEventListener("pointerup", end);
    sheet.addEventListener("pointercancel", end);
  };
  const key = (/** @type {KeyboardEvent} */ event, /** @type {number} */ i) => {
    const way = /** @type {Record<string, [number, number]>} */ ({ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] })[event.key];
    if (way) {
      event.preventDefault();
      const step = event.shiftKey ? FINE : STEP;
      put(moved(corners, i, (corners[2 * i] ?? 0) + way[0] * step, (corners[2 * i + 1] ?? 0) + way[1] * step));
    }
  };
  const hold = (/** @type {number} */ i) => {
    if (held !== i) {
      held = i;
      again();
    }
  };
  const radius = Math.max(size.width, size.height) / 40;
  const said = (/** @type {number} */ i) => `Corner ${i + 1}, ${NAMES[i]}: ${Math.round(100 * (corners[2 * i] ?? 0))} % from the left, ${Math.round(100 * (corners[2 * i + 1] ?? 0))} % from the top. The arrow keys move it, with Shift finely`;
  return html`<div class="patched cornered">
    <img src=${address} alt=${words} />
    <svg viewBox="0 0 ${size.width} ${size.height}" preserveAspectRatio="none" role="group" aria-label="The frame's four corners" @pointerdown=${down}>
      <path class="gate-under" d=${outline(corners)} /><path class="gate" d=${outline(corners)} />
      ${taken.length === 8 ? svg`<path class="gate-taken" d=${outline(taken)} />` : nothing}
      ${NAMES.map((_, i) => svg`<g class="corner" tabindex="0" role="button" aria-label=${said(i)} @keydown=${(/** @type {KeyboardEvent} */ event) => key(event, i)} @focus=${() => hold(i)} @blur=${leave}>
        <circle class="corner-under" cx=${at(corners, i).x} cy=${at(corners, i).y} r=${radius} /><circle class="corner-ring" cx=${at(corners, i).x} cy=${at(corners, i).y} r=${radius} />
        <text class="corner-number" x=${at(corners, i).x} y=${at(corners, i).y} text-anchor="middle" dominant-baseline="central" font-size=${radius * 1.2}>${i + 1}</text>
      </g>`)}
      ${held >= 0 ? glass(address, size, at(corners, held).x, at(corners, held).y) : nothing}
    </svg>
  </div>`;
}
