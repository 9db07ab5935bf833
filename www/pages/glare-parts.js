/**
 * The parts of the page of scattered light: how to set it up, which photos, what the figures come to.
 * Not here: measuring (the bench); reading photos (`glare.js`).
 *
 * @import { LensComparison, LensMeasurements, View } from "../bench/shapes.js"
 */

import { html } from "../vendor/lit-html/lit-html.js";
import { glareSetup } from "../view/bench-setups.js";
import { to } from "../view/links.js";
import { notices } from "../view/notice.js";

/** What a measurement is of. */
export const LABELS = [{ key: "before cleaning", words: "before cleaning" }, { key: "after cleaning", words: "after cleaning" }, { key: "own", words: "another, in your own words", help: "a second lens of its kind, for instance" }];

/** The photos of one measurement, the needed one first. */
export const PHOTOS = /** @type {const} */ ([
  { key: "with_normal", name: "With the lens, normal", help: "The field at mid-grey. This one is needed; alone it gives a rough figure." },
  { key: "with_long", name: "With the lens, longer", help: "Nothing moved, exposed 2 to 5 stops more, until the hole is mid-grey. It takes the phone's tone curve out." },
  { key: "without_normal", name: "Without the lens, normal", help: "Take the lens away and leave the rest: it shows what phone and box scatter themselves." },
  { key: "without_long", name: "Without the lens, longer", help: "As above, exposed longer until the hole is mid-grey." },
]);

/** @param {boolean} open */
export const guide = (open) => html`<details ?open=${open}><summary>How to set it up</summary>
  <figure>${glareSetup(true)}<figcaption>With the lens</figcaption></figure>
  <figure>${glareSetup(false)}<figcaption>Without it, all else left alone</figcaption></figure>
  <ol class="steps">
    <li><b>A black box:</b> a shoe box lined with black cloth or matt black paper, closed, with a round hole in its front. A printed black is not black enough.</li>
    <li><b>A white card on its front,</b> with the same hole, larger than the view and lit evenly from both sides. The hole is about a fifth of the picture's width.</li>
    <li><b>The phone on a stand,</b> aimed at the hole; the lens between them, close before the phone. HDR, night and portrait off.</li>
    <li><b>Two photos:</b> one with the card at mid-grey, then, nothing moved, one exposed 2 to 5 stops longer, until the hole itself is mid-grey. Their own exposure data says how much longer.</li>
    <li><b>The same two without the lens.</b> Then clean, or take the other lens, and do it all again in the same set-up.</li>
  </ol></details>`;

/** @param {LensMeasurements} measured @param {LensComparison} compared @param {(at: number) => void} remove */
export const comparison = (measured, compared, remove) => html`<section class="card" aria-live="polite">
  <p><b>${compared.sentence}</b></p>
  <ul class="rows">${measured.glare.map((one, i) => html`<li>
    <div class="split"><b>${one.label || `Measurement ${i + 1}`}</b><span>${compared.figures[i]}${one.method === "single" ? ", rough" : ""}</span></div>
    ${notices(one.notices.map(({ text }) => text))}
    <div class="actions"><button type="button" @click=${() => remove(i)}>Remove<span class="unseen">: ${one.label}</span></button></div></li>`)}</ul>
  ${notices(compared.notices)}
  <p class="small">What scatters the light is for the eye: <a class="tap" href=${to("round", { area: "lens" })}>look at the glass with a torch</a></p>
</section>`;

/** Points of the glass that the eye tells apart, by their keys. */
const BY_TORCH = ["inner-haze", "fungus", "dust", "rear-glass"];

/** @param {View} view What each thing looks like against a torch: what the figure never says. */
export const torch = (view) => html`<details><summary>What a torch shows, for the eye</summary>
  <p class="small">Hold the lens against a torch a little to the side, in a dark room, wide open. What is seen is entered in the round, and never read from the figure.</p>
  ${view.areas.flatMap((area) => area.points).filter((point) => BY_TORCH.includes(point.key)).map((point) => html`<h3>${point.name}</h3><p class="small">${point.question}</p><dl>${point.choices.slice(0, 4).map((one) => html`<dt>${one.words}</dt><dd>${one.looks}</dd>`)}</dl>`)}
</details>`;
