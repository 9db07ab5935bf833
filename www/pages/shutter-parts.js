/**
 * The parts of the shutter's page: the answer, the marked times, the takes, and before any take the three ways with their limits.
 * Not here: judging (the bench); which way is gone (`listen.js`, `clip.js`).
 *
 * @import { Lists, ShutterResult } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { drawing } from "../plot/drawing.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { call } from "../view/call.js";
import { choice } from "../view/choice.js";
import { later, laterThan } from "../view/later.js";
import { to } from "../view/links.js";
import { notices, refusal } from "../view/notice.js";
import { timeRow } from "../view/time-row.js";
import { toleranceOf } from "./tolerance.js";

/** @param {ShutterResult} judged */
export const answer = (judged) => html`<section class="card" aria-live="polite">
  <p class="headline"><b class="big">${judged.headline}</b></p>
  <p>${call(judged.call, judged.call_words)} <span class="soft">${judged.tolerance_words}</span></p>
  <div class="remedy">
    <p>${judged.pattern}</p>
    ${judged.missing.length > 0 ? html`<p><b>Without a time:</b> ${judged.missing.join(", ")}.</p>` : nothing}
    ${judged.settle ? html`<p><b>What would settle it:</b> ${judged.settle}</p>` : nothing}
    ${judged.others.map((one) => html`<p>${one}</p>`)}
    ${judged.causes.map((one) => html`<p class="small">${one}</p>`)}
  </div>
  ${notices(judged.notices)}
</section>`;

/** @param {Hand} hand @param {ShutterResult} judged */
export const times = (hand, judged) =>
  judged.times.length === 0
    ? nothing
    : html`<h2>${judged.times.length === 1 ? "One marked time" : `${judged.times.length} marked times`}</h2>
        <ul class="levels times">${judged.times.map(laterThan(3, (time, i) => timeRow(time, hand.view.shutter.bars[i])))}</ul>
        ${later(() => hand.view.shutter.plot ? html`<figure>${drawing(hand.view.shutter.plot)}<figcaption>Each dot is a marked time with its doubt. Pale band: the tolerance.</figcaption></figure>` : nothing)}`;

/** @param {Hand} hand */
export const takes = (hand) =>
  hand.view.shutter.takes.length === 0
    ? nothing
    : html`<h2>Takes</h2>
        <ul class="rows">${hand.view.shutter.takes.map((take, i) => html`<li class="leads split"><a href=${to("take", { take: String(i + 1) })}>${take.title}</a><span>${i + 1}</span></li>`)}</ul>`;

/** @param {Hand} hand @param {Lists} lists */
export function settings(hand, lists) {
  const { shutter } = hand.inspection;
  const path = (/** @type {string} */ name) => ["shutter", name];
  return html`<h2>Judged by</h2>
    ${toleranceOf(hand, "shutter", lists.shutter_tolerances)}
    ${choice({ legend: "How the shutter is built", name: "build", layout: "wide", value: shutter.build, options: lists.shutter_builds, pick: (key) => hand.change(path("build"), key) })}
    ${refusal(hand.wrongAt(path("build")))}
    ${shutter.build === "" ? html`<p class="help">Sound tells less of some builds than of others: choose it before you listen.</p>` : nothing}`;
}

/** Before any take: the ways, the one that can be trusted most first. */
export const ways = () => html`<section class="card">
  <p><b>No time measured yet.</b> There are three ways; they can be mixed, and for each marked time the one that can be trusted most counts.</p>
  <h2>Light by a photocell: the reference</h2>
  <p>A photodiode behind a hole of 1 to 2 mm in the film gate, on the microphone input, and a steady lamp. It holds from 4 s to 1/4000: to about 0.2 % at 1/1000 where the signal is clean. A lamp that flickers spoils it, and it says so.</p>
  <h2>Video by this phone</h2>
  <p>A clip at 120 or 240 frames a second of the lit gate through the open back. It holds from 4 s to 1/60; 1/125 with five shots, and whether the gate is even; faster times only where each frame is exposed for nearly all of its interval.</p>
  <h2>Sound: screening</h2>
  <p>Nothing but the microphone. A series of at least three times holds from the slow ones to 1/250 without a mirror; a single shot to 1/60; a leaf shutter to 1/125. With a mirror it only indicates. Where the sound does not tell, the page says “cannot tell”. One slow time measured by light or video anchors the whole series.</p>
</section>`;
