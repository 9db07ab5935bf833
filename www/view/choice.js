/**
 * Choices of which one is made: a group of radio buttons that are easy to hit.
 * Not here: what there is to choose from.
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { live } from "../vendor/lit-html/directives/live.js";

/**
 * @param {object} what
 * @param {string} what.legend
 * @param {string} what.name
 * @param {string} what.value Key of what is chosen.
 * @param {readonly { key: string, words: string, help?: string }[]} what.options
 * @param {(key: string, event: Event) => void} what.pick
 * @param {"wide" | "three" | "even" | "words"} [what.layout] One under another, three in a row, as many as fit in equal parts, or as long as their words.
 * @param {boolean} [what.quiet] The legend is only for those who do not see the page.
 */
export function choice({ legend, name, value, options, pick, layout = "words", quiet = false }) {
  return html`
    <fieldset>
      <legend class=${quiet ? "unseen" : ""}>${legend}</legend>
      <div class="choices ${layout}">
        ${options.map(
          (one) => html`<label class="choice choice-${one.key}">
            <input type="radio" name=${name} value=${one.key} .checked=${live(one.key === value)} @change=${(/** @type {Event} */ event) => pick(one.key, event)} />
            <span>${one.words}${one.help ? html`<small>${one.help}</small>` : nothing}</span>
          </label>`,
        )}
      </div>
    </fieldset>
  `;
}
