/**
 * A line or a box of text, kept as it is typed, with what was refused right below it.
 * Not here: what may be typed.
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { live } from "../vendor/lit-html/directives/live.js";
import { refusal } from "./notice.js";

/**
 * @param {object} what
 * @param {string} what.label
 * @param {string} what.id
 * @param {string} what.value
 * @param {(text: string) => void} what.type
 * @param {string} [what.wrong] What was refused.
 * @param {boolean} [what.decimal] A number: digits first on the keyboard.
 * @param {boolean} [what.long] Several lines.
 * @param {string} [what.help]
 */
export function field({ label, id, value, type, wrong = "", decimal = false, long = false, help = "" }) {
  const typed = (/** @type {Event} */ event) => type(/** @type {HTMLInputElement | HTMLTextAreaElement} */ (event.target).value);
  const said = [help && `${id}-help`, wrong && `${id}-wrong`].filter((one) => one).join(" ") || nothing;
  return html`
    <div class="field">
      <label for=${id}>${label}</label>
      ${long
        ? html`<textarea id=${id} rows="2" autocomplete="off" aria-describedby=${said} .value=${live(value)} @input=${typed}></textarea>`
        : html`<input type="text" id=${id} inputmode=${decimal ? "decimal" : "text"} autocomplete="off" aria-describedby=${said}
            aria-invalid=${wrong ? "true" : nothing} .value=${live(value)} @input=${typed} />`}
      ${help ? html`<p class="help" id="${id}-help">${help}</p>` : nothing}${refusal(wrong, `${id}-wrong`)}
    </div>
  `;
}
