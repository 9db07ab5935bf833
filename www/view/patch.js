/**
 * A picture with a patch on it that is dragged, sized and walked with the keyboard.
 * Not here: what the patch comes to.
 *
 * @import { PhotoPatch } from "../bench/shapes.js"
 */

import { html, svg } from "../vendor/lit-html/lit-html.js";

/** Smallest patch, and how far a key moves it, as shares of the picture. */
const [LEAST, STEP] = [0.02, 0.02];
/** The corner can be taken hold of from this far away, as a share of the picture's longer side. */
const HOLD = 0.05;

/** @param {PhotoPatch} patch @param {{ width: number, height: number }} picture @returns {PhotoPatch} In whole pixels within the picture. */
function within({ x, y, width, height }, picture) {
  const clamp = (/** @type {number} */ value, /** @type {number} */ low, /** @type {number} */ high) => Math.round(Math.min(Math.max(value, low), high));
  const w = clamp(width, Math.max(1, picture.width * LEAST), picture.width);
  const h = clamp(height, Math.max(1, picture.height * LEAST), picture.height);
  return { x: clamp(x, 0, picture.width - w), y: clamp(y, 0, picture.height - h), width: w, height: h };
}

/**
 * @param {object} what
 * @param {string} what.address Of the picture.
 * @param {string} what.words What it shows.
 * @param {{ width: number, height: number }} what.picture In pixels.
 * @param {PhotoPatch} what.patch
 * @param {(patch: PhotoPatch) => void} what.put
 */
export function patchOn({ address, words, picture, patch, put }) {
  const set = (/** @type {Partial<PhotoPatch>} */ values) => put(within({ ...patch, ...values }, picture));
  const place = (/** @type {PointerEvent} */ event) => {
    const box = /** @type {Element} */ (event.currentTarget).getBoundingClientRect();
    return { x: ((event.clientX - box.left) / box.width) * picture.width, y: ((event.clientY - box.top) / box.height) * picture.height };
  };
  const down = (/** @type {PointerEvent} */ event) => {
    const sheet = /** @type {SVGElement} */ (event.currentTarget);
    sheet.setPointerCapture(event.pointerId);
    const at = place(event);
    const hold = HOLD * Math.max(picture.width, picture.height);
    const corner = Math.hypot(at.x - patch.x - patch.width, at.y - patch.y - patch.height) < hold;
    const inside = at.x >= patch.x && at.y >= patch.y && at.x <= patch.x + patch.width && at.y <= patch.y + patch.height;
    // Beside the patch a tap brings it there.
    const from = inside || corner ? patch : within({ ...patch, x: at.x - patch.width / 2, y: at.y - patch.height / 2 }, picture);
    put(from);
    const move = (/** @type {PointerEvent} */ moved) => {
      const to = place(moved);
      const [dx, dy] = [to.x - at.x, to.y - at.y];
      put(within(corner ? { ...from, width: from.width + dx, height: from.height + dy } : { ...from, x: from.x + dx, y: from.y + dy }, picture));
    };
    const end = () => {
      sheet.removeEventListener("pointermove", move);
      sheet.removeEventListener("pointerup", end);
      sheet.removeEventListener("pointercancel", end);
    };
    sheet.addEventListener("pointermove", move);
    sheet.addEventListener("pointerup", end);
    sheet.addEventListener("pointercancel", end);
  };
  const key = (/** @type {KeyboardEvent} */ event) => {
    const way = /** @type {Record<string, [number, number]>} */ ({ ArrowLeft: [-1, 0], ArrowRight: [1, 0], ArrowUp: [0, -1], ArrowDown: [0, 1] })[event.key];
    if (!way) {
      return;
    }
    event.preventDefault();
    const [dx, dy] = [way[0] * picture.width * STEP, way[1] * picture.height * STEP];
    set(event.shiftKey ? { width: patch.width + dx, height: patch.height + dy } : { x: patch.x + dx, y: patch.y + dy });
  };
  const size = (/** @type {number} */ times) => {
    const [w, h] = [patch.width * times, patch.height * times];
    set({ x: patch.x + (patch.width - w) / 2, y: patch.y + (patch.height - h) / 2, width: w, height: h });
  };
  const line = Math.max(picture.width, picture.height) / 200;
  return html`<div class="patched">
      <img src=${address} alt=${words} />
      <svg viewBox="0 0 ${picture.width} ${picture.height}" preserveAspectRatio="none" tabindex="0" role="group" aria-label="The patch that is measured: the arrow keys move it, with Shift they change its size" @pointerdown=${down} @keydown=${key}>
        ${svg`<rect class="patch-under" x=${patch.x} y=${patch.y} width=${patch.width} height=${patch.height} stroke-width=${2 * line} />
        <rect class="patch" x=${patch.x} y=${patch.y} width=${patch.width} height=${patch.height} stroke-width=${line} />
        <rect class="patch-corner" x=${patch.x + patch.width - 3 * line} y=${patch.y + patch.height - 3 * line} width=${6 * line} height=${6 * line} />`}
      </svg>
    </div>
    <div class="actions two"><button type="button" @click=${() => size(0.8)}>Smaller</button><button type="button" @click=${() => size(1.25)}>Larger</button></div>`;
}
