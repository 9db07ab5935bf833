/**
 * The photos of openings one by one: each with its outline, its mark and side, and what can be done with it.
 * Not here: measuring (`opening-photos.js`); what the openings come to (`openings-parts.js`).
 *
 * @import { OpeningShot, Place } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { notices } from "../view/notice.js";
import { overlaid } from "../view/overlaid.js";
import { drag } from "../view/reorder.js";
import { stepper } from "../view/stepper.js";
import { fileOf } from "./opening-photos.js";
import { addressOf } from "./pictures.js";

/**
 * @typedef {object} Acts
 * @property {(from: number, to: number) => void} move
 * @property {(at: number, tap: { x: number, y: number }) => void} tap
 * @property {(at: number) => void} keep
 * @property {(at: number) => void} remove
 */

const SIDES = [{ key: "open", words: "from open" }, { key: "closed", words: "from closed" }, { key: "", words: "not said" }];

/** @param {Hand} hand @param {OpeningShot} shot @param {number} i @param {number} all @param {readonly Place[]} places @param {Acts} acts */
function card(hand, shot, i, all, places, acts) {
  const path = (/** @type {string} */ name) => ["aperture", "openings", i, name];
  const here = fileOf(shot);
  const label = places.find((one) => one.mark === shot.f_number)?.label ?? "no f-number yet";
  const address = here?.address ?? (shot.photo ? addressOf(shot.photo, hand.draw) : "");
  return html`<li class="card opening ${shot.dropped ? "out" : ""}" aria-label="Photo ${i + 1}">
    <div class="split opening-head">
      <button type="button" class="handle" aria-hidden="true" tabindex="-1" @pointerdown=${(/** @type {PointerEvent} */ event) => drag(event, acts.move)}>⠿</button>
      <p><b class="big">${label}</b><small class="soft">${shot.source}${shot.dropped ? ", left out" : ""}</small></p>
    </div>
    ${overlaid({ address, words: `Photo ${i + 1}, ${label}`, over: hand.view.aperture.outlines[i] ?? null, ...(here ? { tap: (at) => acts.tap(i, at) } : {}) })}
    ${here ? html`<p class="small">The line is what was measured. If it is not the opening, tap the middle of the opening.</p>` : nothing}
    ${notices(hand.view.aperture.notices[i] ?? [])}
    ${stepper({ label: "It shows", group: `Photo ${i + 1}`, id: `f-number-${i}`, places, value: shot.f_number, set: (mark) => hand.change(path("f_number"), mark) })}
    <details><summary>Side, order, keeping<span class="unseen">: photo ${i + 1}</span></summary>
      ${choice({ legend: "The ring was turned", name: `side-${i}`, value: shot.side, options: SIDES, pick: (key) => hand.change(path("side"), key) })}
      <div class="actions two">
        <button type="button" ?disabled=${i === 0} @click=${() => acts.move(i, i - 1)}>Earlier<span class="unseen">: photo ${i + 1}</span></button>
        <button type="button" ?disabled=${i === all - 1} @click=${() => acts.move(i, i + 1)}>Later<span class="unseen">: photo ${i + 1}</span></button>
        <button type="button" @click=${() => hand.change(path("dropped"), !shot.dropped)}>${shot.dropped ? "Take it back in" : "Leave it out"}<span class="unseen">: photo ${i + 1}</span></button>
        <button type="button" @click=${() => acts.remove(i)}>Remove<span class="unseen"> photo ${i + 1}</span></button>
      </div>
      ${shot.photo
        ? html`<p class="small">This picture is kept as evidence, small and without metadata.</p>`
        : here ? html`<div class="actions"><button type="button" @click=${() => acts.keep(i)}>Keep the picture as evidence<span class="unseen">: photo ${i + 1}</span></button></div>` : html`<p class="small">The picture itself was thrown away; its outline stays.</p>`}
    </details>
  </li>`;
}

/** @param {Hand} hand @param {readonly Place[]} places @param {Acts} acts */
export function cards(hand, places, acts) {
  const { openings } = hand.inspection.aperture;
  return openings.length === 0
    ? nothing
    : html`<h2>Photos</h2>
        <p class="small">Order and f-number were guessed from time and size. Drag a photo by its handle to where it belongs, or step its f-number.</p>
        <ol class="opening-cards">${openings.map((shot, i) => card(hand, shot, i, openings.length, places, acts))}</ol>`;
}
