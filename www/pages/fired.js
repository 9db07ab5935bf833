/**
 * What was fired, as it is chosen before a take: which marked times, from which end of the dial, how many shots each, with the
 * mirror or without; remembered for the next camera.
 * Not here: going through it (`plan.js`); hearing it (`listening.js`).
 *
 * @import { Choice, MarkView } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import * as settings from "../store/settings.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { live } from "../vendor/lit-html/directives/live.js";
import { choice } from "../view/choice.js";
import { asked } from "../view/links.js";
import { order } from "./plan.js";

/**
 * @typedef {object} Fired
 * @property {string} signal `sound` or `light`.
 * @property {string} direction `fast` or `slow`: the end of the dial where it begins.
 * @property {string} shots For each time.
 * @property {boolean} locked Whether the mirror is locked up.
 * @property {boolean} spoken Whether the next time is said aloud.
 * @property {boolean} tone Whether a caught shot is told by a tone and a buzz.
 * @property {boolean} keep Whether the recording stays on the phone.
 * @property {string[]} without Marked times that are left out.
 */

/** @type {Fired} */
const FIRST = { signal: "sound", direction: "fast", shots: "2", locked: false, spoken: false, tone: false, keep: false, without: [] };
const NAME = "fired";

/** @param {Hand} hand @returns {Promise<Fired>} As it was last time, for the times that are asked for in the address. */
export async function remembered(hand) {
  const kept = await settings.get(NAME).catch(() => null);
  const wanted = asked.get("marks")?.split(" ").filter((mark) => mark) ?? [];
  const without = wanted.length > 0 ? hand.view.shutter.marks.map((one) => one.mark).filter((mark) => !wanted.includes(mark)) : [];
  return { ...FIRST, ...kept, without };
}

/** @param {Fired} fired */
export function remember(fired) {
  settings.set(NAME, { ...fired, without: [] }).catch(() => {});
}

/** @param {Hand} hand @returns {boolean} Whether a mirror moves with the shots unless it is locked up. */
export const hasMirror = (hand) => hand.inspection.camera.kind === "single_lens_reflex";

/** @param {Hand} hand @param {Fired} fired @returns {string[]} A mark for each shot. */
export const plan = (hand, fired) =>
  order(hand.view.shutter.marks.map((one) => one.mark).filter((mark) => !fired.without.includes(mark)), fired.direction, Number(fired.shots));

/** @type {Choice[]} */
export const DIRECTIONS = [{ key: "fast", words: "Fast to slow", help: "" }, { key: "slow", words: "Slow to fast", help: "" }];

/**
 * @param {object} what
 * @param {Hand} what.hand
 * @param {Fired} what.fired
 * @param {(values: Partial<Fired>) => void} what.put
 * @param {readonly string[]} [what.counts] How many shots for each time can be chosen.
 * @param {readonly Choice[]} [what.directions]
 * @param {boolean} [what.mirror] Whether a mirror matters.
 */
export function firedPart({ hand, fired, put, counts = ["1", "2", "3"], directions = DIRECTIONS, mirror = true }) {
  const toggle = (/** @type {MarkView} */ { mark }) =>
    put({ without: fired.without.includes(mark) ? fired.without.filter((one) => one !== mark) : [...fired.without, mark] });
  const marks = fired.direction === "fast" ? [...hand.view.shutter.marks].reverse() : hand.view.shutter.marks;
  return html`
    ${choice({ legend: "Through the dial", name: "direction", layout: directions.length > 2 ? "three" : "words", value: fired.direction, options: directions, pick: (direction) => put({ direction }) })}
    ${choice({ legend: "Shots for each time", name: "shots", layout: "words", value: fired.shots, options: counts.map((key) => ({ key, words: key })), pick: (shots) => put({ shots }) })}
    ${mirror && hasMirror(hand)
      ? choice({ legend: "The mirror", name: "mirror", layout: "words", value: fired.locked ? "locked" : "moves", options: [{ key: "moves", words: "moves" }, { key: "locked", words: "is locked up" }], pick: (key) => put({ locked: key === "locked" }) })
      : nothing}
    <details ?open=${fired.without.length > 0}><summary>${fired.without.length > 0 ? "Only some of the marked times" : "All marked times"}</summary>
      <fieldset><legend class="unseen">Marked times to fire</legend>
        <div class="choices marks">${marks.map((one) => html`<label class="choice"><input type="checkbox" .checked=${live(!fired.without.includes(one.mark))} @change=${() => toggle(one)} /><span>${one.label}</span></label>`)}</div>
      </fieldset>
    </details>`;
}
