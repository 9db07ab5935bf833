/**
 * Sentences that lead to their evidence, and what was not checked.
 * Not here: the sentences, which the bench says.
 *
 * @import { Reason, Unchecked } from "../bench/shapes.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { evidence } from "./links.js";

/** @param {Reason} reason The name before the colon is the link, and the whole row can be tapped. */
function row(reason) {
  const end = reason.text.indexOf(":");
  const [name, rest] = end > 0 && end < 60 ? [reason.text.slice(0, end), reason.text.slice(end)] : [reason.text, ""];
  return html`<li class="leads"><a href=${evidence(reason)}>${name}</a>${rest}</li>`;
}

/**
 * @param {string} heading
 * @param {readonly Reason[]} reasons Nothing is shown where there are none.
 */
export function reasons(heading, reasons) {
  return reasons.length > 0 ? html`<h2>${heading}</h2><ul class="rows">${reasons.map(row)}</ul>` : nothing;
}

/** @param {readonly Unchecked[]} list */
export function unchecked(list) {
  if (list.length === 0) {
    return nothing;
  }
  const mattering = list.filter((one) => one.matters).length;
  return html`
    <h2>Not checked: ${list.length}</h2>
    <details class="open-list" ?open=${list.length <= 6}>
      <summary>${mattering === 0 ? "None of it can spoil film or exposure" : `${mattering} can spoil film or exposure; the quickest come first`}</summary>
      <ul class="rows">
        ${list.map((one) => html`<li class="leads"><a href=${evidence(one)}>${one.text}</a>${one.matters ? html` <b class="tag">matters</b>` : nothing}</li>`)}
      </ul>
    </details>
  `;
}
