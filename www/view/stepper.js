/**
 * A stepper over places in order: back, the place itself as a list to choose from, on. Arrow keys go through it too.
 * Not here: which places there are, which the bench and `scales.js` say.
 *
 * @import { Place } from "../bench/shapes.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { live } from "../vendor/lit-html/directives/live.js";
import { hold, letGo } from "./hold.js";
import { later, whole } from "./later.js";

/**
 * @param {object} what
 * @param {string} what.label
 * @param {string} what.id
 * @param {readonly Place[]} what.places In order.
 * @param {string} what.value Mark of the place it stands at.
 * @param {(mark: string) => void} what.set
 * @param {number} [what.leap] Places that a second pair of buttons leaps over; none where it is not given.
 * @param {readonly string[]} [what.signs] On the buttons, from left to right.
 * @param {string} [what.group] What it belongs to, for those who only hear it.
 */
export function stepper({ label, id, places, value, set, leap = 0, signs = ["−", "+"], group = "" }) {
  const shown = places.some((place) => place.mark === value) ? places : [{ mark: value, label: value || "choose" }, ...places];
  const now = shown.findIndex((place) => place.mark === value);
  const name = group ? `${group}: ${label}` : label;
  const [far = "", back = "−", on = "+", further = ""] = leap ? signs : ["", ...signs];
  /** @param {number} by @param {string} sign @param {string} words */
  const button = (by, sign, words) => {
    const to = shown[Math.min(Math.max(now + by, 0), shown.length - 1)];
    const go = (/** @type {Event} */ event) => !letGo(event) && to && set(to.mark);
    return html`<button type="button" aria-label="${name} ${sign}, ${words} to ${to?.label ?? ""}" ?disabled=${!to || to.mark === value} @click=${go} @pointerdown=${hold}>${sign}</button>`;
  };
  /** @param {Place} place */
  const option = (place) => html`<option value=${place.mark} ?selected=${place.mark === value}>${place.label}</option>`;
  return html`
    <div class="stepper ${leap ? "leaps" : ""}" role="group" aria-label=${name}>
      ${leap ? button(-leap, far, "far back") : nothing}${button(-1, back, "back")}
      <div class="place">
        <label for=${id}>${label}</label>
        <select id=${id} .value=${live(value)} @focus=${whole} @change=${(/** @type {Event} */ event) => set(/** @type {HTMLSelectElement} */ (event.target).value)}>
          ${later(() => shown.map(option), shown.slice(now, now + 1).map(option))}
        </select>
      </div>
      ${button(1, on, "on")}${leap ? button(leap, further, "far on") : nothing}
    </div>
  `;
}
