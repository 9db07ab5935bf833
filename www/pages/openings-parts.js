/**
 * The parts of the page of openings: the answer, the marks with their bars, how to photograph, how it is judged.
 * Not here: the photos one by one (`opening-cards.js`); judging (the bench).
 *
 * @import { ApertureResult, SetupView, StopResult } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { drawing } from "../plot/drawing.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { openingSetup } from "../view/bench-setups.js";
import { call } from "../view/call.js";
import { field } from "../view/field.js";
import { side } from "../view/level-row.js";
import { notices } from "../view/notice.js";
import { toleranceOf } from "./tolerance.js";

/** @param {ApertureResult} judged */
export const answer = (judged) => html`<section class="card" aria-live="polite">
  <p class="headline"><b class="big">${judged.headline}</b></p>
  <p>${call(judged.call, judged.call_words)} <span class="soft">${judged.tolerance_words}</span></p>
  <div class="remedy">
    <p>${judged.pattern}</p>
    ${judged.same.map((one) => html`<p><b>${one}</b></p>`)}
    ${judged.odd_blades.map((one) => html`<p><b>${one.words}</b></p>`)}
    ${judged.settling.map((one) => html`<p>${one}</p>`)}
    ${judged.missing.length > 0 ? html`<p><b>Without a photo:</b> ${judged.missing.join(", ")}.</p>` : nothing}
    ${judged.settle ? html`<p><b>What would settle it:</b> ${judged.settle}</p>` : nothing}
    ${judged.blade_count === null ? nothing : html`<p class="small">${judged.blade_count} blades.</p>`}
  </div>
  ${notices(judged.notices)}
</section>`;

/** @param {StopResult} stop @param {import("../bench/shapes.js").Drawing | undefined} bar */
const row = (stop, bar) => html`<li class="time">
  <div class="level">
    <div><b>${stop.label}</b></div>
    <div class="bar">${bar && bar.marks.length > 0 ? drawing(bar, { stretched: true }) : nothing}</div>
    <div class="word ${side(stop.error_words)}">${stop.error_words}<small>${stop.doubt_words}</small></div>
  </div>
  <div class="how"><span class="small">${stop.how_words}</span>${stop.widest ? html`<span class="soft">${stop.call_words}</span>` : call(stop.call, stop.call_words)}</div>
  ${notices(stop.notices)}
</li>`;

/** @param {Hand} hand @param {ApertureResult} judged */
export const stops = (hand, judged) =>
  judged.stops.length === 0
    ? nothing
    : html`<h2>${judged.stops.length} marked f-numbers</h2>
        <ul class="levels times">${judged.stops.map((stop, i) => row(stop, hand.view.aperture.bars[i]))}</ul>
        ${hand.view.aperture.plot ? html`<figure>${drawing(hand.view.aperture.plot)}<figcaption>Each bar is a marked f-number with its doubt. Pale band: the tolerance.</figcaption></figure>` : nothing}`;

/** @param {boolean} open */
export const guide = (open) => html`<details ?open=${open}><summary>How to photograph the openings</summary>
  <figure>${openingSetup()}</figure>
  <ol class="steps">
    <li><b>A lit white field</b> under or behind the lens: another screen that shows a white page, with a sheet of paper on it, or a window with paper on it. The room dark.</li>
    <li><b>The lens before it,</b> off the camera or with the back open and the shutter on B. Hold its stop-down lever or pin so that the ring moves the blades.</li>
    <li><b>The phone on a stand,</b> straight on the lens's axis, so near that the lens fills the picture. HDR, night and portrait off, flash off. Lock focus on the blades.</li>
    <li><b>Lower the exposure until the field is light grey,</b> not white, and lock it: the same for all photos.</li>
    <li><b>One photo for each mark,</b> from open to closed, without moving phone or lens. If you like, back again to open: that shows whether the side matters. And once more: that shows how well it repeats.</li>
  </ol></details>`;

/** @param {readonly SetupView[]} checks */
export const setupChecks = (checks) => html`<ul class="checks">${checks.map((one) => html`<li class=${one.good ? "" : "bad"}><b>${one.good ? "Good" : "Mend"}</b> ${one.text}</li>`)}</ul>`;

/** @param {Hand} hand */
export function settings(hand) {
  const { aperture } = hand.inspection;
  const path = (/** @type {string} */ name) => ["aperture", name];
  return html`<h2>Judged by</h2>
    ${toleranceOf(hand, "aperture", hand.view.aperture.tolerances)}
    ${field({ label: "Number of blades, if you counted", id: "blades", decimal: true, value: hand.textAt(path("blades"), aperture.blades), wrong: hand.wrongAt(path("blades")), help: "Left empty, it is told from the pictures where it can be.", type: (typed) => hand.change(path("blades"), typed) })}`;
}
