/** A stepper over the places of a dial: less, the value as a list, more. Not here: which places there are, which the bench says. */
import { html } from "../vendor/lit-html/lit-html.js";
import { live } from "../vendor/lit-html/directives/live.js";

/**
 * @param {{ label: string, id: string, places: { mark: string, label: string }[], value: string, set: (mark: string) => void }} what
 */
export function dial({ label, id, places, value, set }) {
  const at = places.findIndex((place) => place.mark === value);
  const go = (/** @type {number} */ by) => {
    const next = places[Math.min(Math.max((at < 0 ? 0 : at) + by, 0), places.length - 1)];
    if (next) {
      set(next.mark);
    }
  };
  return html`
    <label class="name" for=${id}>${label}</label>
    <div class="stepper">
      <button type="button" aria-label="${label}, one back" ?disabled=${at <= 0} @click=${() => go(-1)}>−</button>
      <select id=${id} .value=${live(value)} @change=${(/** @type {Event} */ event) => set(/** @type {HTMLSelectElement} */ (event.target).value)}>
        ${places.map((place) => html`<option value=${place.mark} ?selected=${place.mark === value}>${place.label}</option>`)}
      </select>
      <button type="button" aria-label="${label}, one on" ?disabled=${at === places.length - 1} @click=${() => go(1)}>+</button>
    </div>
  `;
}
