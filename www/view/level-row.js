/**
 * One level in a list: the light, the bar about zero with its doubt, the error in words.
 * Not here: any of these, which the bench says; the drawing of a bar (`plot`).
 *
 * @import { Drawing, LevelResult } from "../bench/shapes.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { drawing } from "../plot/drawing.js";

/** @param {string} words @returns {string} The class that colours an error; its word stands beside it. */
export const side = (words) => (/ over$/.test(words) ? "over" : / under$/.test(words) ? "under" : "");

/**
 * @param {LevelResult} level
 * @param {Drawing | undefined} bar
 * @param {{ n: number, href: string } | null} [link] Where this level can be put right.
 */
export function levelRow(level, bar, link = null) {
  return html`<li class="level ${link ? "leads" : ""}">
    <div>
      ${link ? html`<a href=${link.href} aria-label="Level ${link.n}, ${level.light_words}: put right or read again">${level.light_words}</a>` : html`<b>${level.light_words}</b>`}
      <small>${level.reading_words}</small>
    </div>
    <div class="bar">${bar ? drawing(bar, { stretched: true }) : nothing}</div>
    <div class="word ${side(level.error_words)}">${level.error_words}<small>${level.doubt_words}</small></div>
  </li>`;
}
