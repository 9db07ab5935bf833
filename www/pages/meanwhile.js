/**
 * What the eyes and hands saw while the shutter was fired through the dial: asked for right after the take, one tap each.
 * Not here: which points those are, which the bench says; everything else about a point (`round.js`).
 *
 * @import { PointView } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { to } from "../view/links.js";
import { setCondition } from "./finding.js";

/** @param {Hand} hand @returns {{ area: string, point: PointView }[]} */
function watched(hand) {
  const keys = hand.view.round.find((step) => step.meanwhile.length > 0)?.meanwhile ?? [];
  return hand.view.areas.flatMap((area) => area.points.filter((point) => keys.includes(point.key)).map((point) => ({ area: area.key, point })));
}

/** @param {Hand} hand What to mind while firing. */
export function watchFor(hand) {
  const all = watched(hand);
  return all.length === 0 ? nothing : html`<p class="small">Mind meanwhile: ${all.map(({ point }) => point.name).join(", ")}. It is asked for afterwards.</p>`;
}

/** @param {Hand} hand The same points, to be answered. */
export function sawMeanwhile(hand) {
  const all = watched(hand);
  return all.length === 0
    ? nothing
    : html`<section class="card" aria-labelledby="meanwhile"><h2 id="meanwhile">While you fired</h2>
      <ul class="rows">${all.map(({ area, point }) => html`<li><p>${point.question}</p>
        <div class="actions two"><button type="button" @click=${() => setCondition(hand, point.key, "sound")}><span>Sound<span class="unseen">: ${point.name}</span></span></button>
          <a class="button" href=${`${to("round", { area })}#${point.key}`}><span>Something is off<span class="unseen">: ${point.name}</span></span></a></div></li>`)}</ul></section>`;
}
