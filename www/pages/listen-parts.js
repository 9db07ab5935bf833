/**
 * The parts of the page that listens: how to set up, what is asked for while the take runs, what was caught so far.
 * Not here: listening (`listening.js`); which time is asked for (`plan.js`).
 *
 * @import { Hand } from "./hand.js"
 * @import { Session } from "./listening.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { strip } from "../view/strip.js";
import { watchFor } from "./meanwhile.js";
import { SPECIAL } from "./plan.js";

const NTH = ["first", "second", "third", "fourth", "fifth", "sixth"];
const OF = ["none", "one", "two", "three", "four", "five", "six"];

/** @type {Record<string, unknown>} What makes a take good, by what it listens to. */
const HOW = {
  sound: html`<ul>
    <li>The camera on a cushion, the microphone 5 to 30 cm away; nothing moves between the shots.</li>
    <li>No voices, no music; wind between the shots, at least a second away from each.</li>
    <li>A series tells far more than single shots: from 1/4 or 1/8 to the fastest, two or three shots each.</li>
    <li>Lock the mirror up where that can be done; no self-timer.</li>
  </ul>`,
  light: html`<ul>
    <li>A photodiode, not a solar cell, behind a hole or slit of 1 to 2 mm in the film gate; narrower than the slit of the fastest time.</li>
    <li>A small steady lamp half a metre to a metre away: a torch on its battery or daylight, never a dimmed LED.</li>
    <li>The lens wide open or off. The signal between a tenth and a half of full scale.</li>
    <li>One shot of 1/15 to 1/2 s in the same take; at least 0.3 s between shots.</li>
    <li>A cell that falls below about 1000 Ω in bright light presses the headset's button: put a resistor in series.</li>
  </ul>`,
};

/** @param {string} signal */
export const how = (signal) => html`<details><summary>How to set it up</summary>${HOW[signal] ?? nothing}</details>`;

/** @param {Hand} hand @param {string} mark */
export const labelOf = (hand, mark) =>
  SPECIAL[/** @type {keyof typeof SPECIAL} */ (mark)] ?? hand.view.shutter.marks.find((one) => one.mark === mark)?.label ?? mark;

/** @param {Hand} hand @param {Session} session What is asked for now. */
function ask(hand, session) {
  const { plan, heard, byHand, open } = session;
  const { nth, of } = plan.count;
  const said = byHand
    ? plan.now === "bulb" ? "Hold the release, let it go, then press Stop." : "Press the release; when the shutter has gone, press Stop."
    : !open ? "Wait …" : of > 1 ? `${NTH[nth - 1] ?? nth} of ${OF[of] ?? of}` : "one shot";
  return html`<section class="card ask ${open ? "" : "closed"}">
    <p class="small">${open ? "Fire now" : "One moment"}</p>
    <p role="status" aria-live="assertive"><b class="asked">${labelOf(hand, plan.now)}</b> <span class="nth">${said}</span></p>
    <p class="small">${plan.then ? html`then ${labelOf(hand, plan.then)}` : byHand ? nothing : "the last one"}</p>
    <p class="floor small">${heard ? html`Between shots: ${heard.floor_words}` : "Listening …"}</p>
  </section>
  <div class="advice" role="status">${heard?.advice ? html`<p class="caution">${heard.advice}</p>` : nothing}</div>`;
}

/** @param {Hand} hand @param {Session} session */
export function running(hand, session) {
  const { plan, byHand } = session;
  const told = plan.caught.map((one) => ({ label: labelOf(hand, one.mark), words: one.words || "caught", out: !one.counts }));
  const byHandHeard = byHand ? (session.heard?.heard ?? []).map((_, i) => ({ label: `Sound ${i + 1}`, words: "heard", out: false })) : [];
  return html`${ask(hand, session)}
    ${byHand
      ? nothing
      : html`<div class="actions two">
          <button type="button" @click=${() => session.skip()}>Skip this time</button>
          <button type="button" ?disabled=${!plan.caught.some((one) => one.counts)} @click=${() => session.again()}>Again<span class="unseen">: the last one did not count</span></button>
        </div>`}
    ${byHand ? nothing : watchFor(hand)}
    ${strip({ shots: [...told, ...byHandHeard], name: "Shots so far", empty: "No shot yet." })}
    <p class="small">What shows here is provisional. At the end all shots are worked out together.</p>`;
}
