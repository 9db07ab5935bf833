/**
 * One marked time in a list: the mark, the bar about zero with its doubt, the error in words, the call, how it was caught.
 * Not here: any of these, which the bench says; the drawing of a bar (`plot`).
 *
 * @import { Drawing, TimeResult } from "../bench/shapes.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { drawing } from "../plot/drawing.js";
import { call } from "./call.js";
import { side } from "./level-row.js";
import { notices } from "./notice.js";

/** @param {TimeResult} time How it was caught; opened, what its doubt is made of, part by part. */
function how(time) {
  return time.doubts.length === 0
    ? html`<span class="small">${time.how_words}</span>`
    : html`<details>
        <summary class="small">${time.how_words}<span class="unseen">: what the doubt of ${time.label} is made of</span></summary>
        <dl>${time.doubts.map((one) => html`<dt>${one.name}</dt><dd>${one.standard_uncertainty_stops.toFixed(3)} stop</dd>`)}</dl>
        <p class="small">Standard uncertainties; the doubt above holds them all, at 95 %.</p>
      </details>`;
}

/** @param {TimeResult} time @param {Drawing | undefined} bar */
export function timeRow(time, bar) {
  return html`<li class="time">
    <div class="level">
      <div><b>${time.label}</b><small>${time.time_words}</small></div>
      <div class="bar">${bar && bar.marks.length > 0 ? drawing(bar, { stretched: true }) : nothing}</div>
      <div class="word ${side(time.error_words)}">${time.error_words}<small>${time.doubt_words}</small></div>
    </div>
    <div class="how">${how(time)}${call(time.call, time.call_words)}</div>
    ${notices(time.notices)}
  </li>`;
}
