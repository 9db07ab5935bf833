/**
 * The drawing of the open back with its places to tap, and the same places as numbers to walk through with the keyboard.
 * Not here: where a place lies and what was found there, which the bench says.
 *
 * @import { Drawing, Mark, PlaceView } from "../bench/shapes.js"
 */

import { html } from "../vendor/lit-html/lit-html.js";
import { live } from "../vendor/lit-html/directives/live.js";
import { drawing } from "../plot/drawing.js";

/** The mark of the place in hand, a little outside it. @param {PlaceView} place @returns {Mark} */
const inHand = ({ x, y, x2, y2 }) => ({ shape: "rectangle", role: "in-hand", x: x - 3, y: y - 3, x2: x2 + 3, y2: y2 + 3, points: [], text: "", anchor: "" });

/**
 * How far a point of the drawing lies outside a place; inside one, the smaller place is the nearer.
 *
 * @param {PlaceView} place @param {number} x @param {number} y
 */
function distance(place, x, y) {
  const dx = Math.max(place.x - x, 0, x - place.x2);
  const dy = Math.max(place.y - y, 0, y - place.y2);
  return Math.hypot(dx, dy) + Math.min(place.x2 - place.x, place.y2 - place.y) / 1000;
}

/** @type {WeakMap<Drawing, Map<string, Drawing>>} So that showing it again changes nothing. */
const marked = new WeakMap();

/** @param {Drawing} made @param {PlaceView | undefined} place @returns {Drawing} */
function withPlace(made, place) {
  if (!place) {
    return made;
  }
  const known = marked.get(made) ?? new Map();
  marked.set(made, known);
  if (!known.has(place.key)) {
    known.set(place.key, { ...made, marks: [...made.marks, inHand(place)] });
  }
  return known.get(place.key);
}

/**
 * @param {object} what
 * @param {Drawing} what.made
 * @param {readonly PlaceView[]} what.places Those that can be chosen.
 * @param {string} what.value Key of the place in hand.
 * @param {(key: string) => void} what.pick
 */
export function back({ made, places, value, pick }) {
  const tapped = (/** @type {MouseEvent} */ event) => {
    const svg = /** @type {Element} */ (event.currentTarget).querySelector("svg");
    const box = svg?.getBoundingClientRect();
    if (!box || places.length === 0) {
      return;
    }
    const x = ((event.clientX - box.left) / box.width) * made.width;
    const y = ((event.clientY - box.top) / box.height) * made.height;
    pick(places.reduce((nearest, one) => (distance(one, x, y) < distance(nearest, x, y) ? one : nearest)).key);
  };
  return html`<figure class="back" @click=${tapped}>${drawing(withPlace(made, places.find((one) => one.key === value)))}</figure>
    <fieldset>
      <legend>Place</legend>
      <div class="places">
        ${places.map((one) => html`<label class="choice">
          <input type="radio" name="place" value=${one.key} .checked=${live(one.key === value)} @change=${() => pick(one.key)} />
          <span>${one.number}<span class="unseen"> ${one.name}: ${one.condition_words}</span></span>
        </label>`)}
      </div>
    </fieldset>`;
}
