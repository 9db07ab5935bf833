/**
 * Shots in the order of time as marks on a hairline, each with its marked time and what was found.
 * Not here: any time, which the bench says.
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";

/**
 * @param {object} what
 * @param {readonly { label: string, words: string, out: boolean, href?: string }[]} what.shots `out`: it does not count.
 * @param {string} what.name
 * @param {string} what.empty Said where there is none.
 */
export function strip({ shots, name, empty }) {
  return html`<h2>${name}</h2>
    ${shots.length === 0
      ? html`<p class="soft">${empty}</p>`
      : html`<ol class="strip" aria-label=${name}>
          ${shots.map((one) => html`<li class=${one.out ? "out" : ""}>
            ${one.href ? html`<a href=${one.href}>${one.label}</a>` : html`<b>${one.label}</b>`}
            <small>${one.words}${one.out ? html`<span class="unseen">, does not count</span>` : nothing}</small>
          </li>`)}
        </ol>`}`;
}
