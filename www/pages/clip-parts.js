/**
 * The parts of the page for a clip: how to film it, what its file says, what has to be known of it, the tone curve.
 * Not here: reading a clip (`capture`); what its frames come to, which the bench says.
 *
 * @import { Movie } from "../bench/shapes.js"
 * @import { Draft } from "./clip.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { notices } from "../view/notice.js";

const STEPS = html`<ol class="steps">
  <li><b>A lit white field.</b> Open the back, take the lens off or open it fully, and put a white surface, evenly lit, in front of the camera. A small steady lamp or daylight, never a dimmed LED; the room dark.</li>
  <li><b>The phone at the back.</b> Fill the picture with the film gate, the way the curtain runs along the picture's width or height. Choose slow motion, 120 or 240 frames a second, the highest true rate.</li>
  <li><b>Lock exposure and focus</b>, and the white balance where that can be done.</li>
  <li><b>Dim the lamp until the phone itself wants its longest exposure for each frame.</b> Bright light shortens it, and the gaps between frames spoil fast times. The open field should be at 60 to 85 % of white, nowhere clipped.</li>
  <li><b>Include one long exposure:</b> B, or 1/8 s or slower, with the same exposure lock. Then through the dial; above 1/60 five shots for each time.</li>
  <li><b>Bring the original.</b> On some phones the photo picker makes a new file: save the clip to the phone's files first and choose it there.</li>
</ol>`;

/** @param {boolean} open */
export const steps = (open) => html`<details ?open=${open}><summary>How to film it</summary>${STEPS}</details>`;

/** Shares of the picture that the gate can fill; the middle is meant. */
export const SHARES = [{ key: "1", words: "all of it" }, { key: "0.75", words: "three quarters" }, { key: "0.5", words: "half" }, { key: "0.33", words: "a third" }];

/** @param {string} name @param {Movie} movie @param {Draft} draft @param {(values: Partial<Draft>) => void} put What the file says of itself, and what is asked where it disagrees with itself. */
export function rates(name, movie, draft, put) {
  const options = [
    ...(movie.capture_rate_hz === null ? [] : [{ key: "captured", words: `captured at ${movie.capture_rate_hz} a second`, help: "slow motion" }]),
    { key: "file", words: "as the file plays", help: "no slow motion" },
    { key: "other", words: "another rate", help: "" },
  ];
  return html`<section class="card">
    <p><b>${name}</b></p>
    <p>${movie.rate_words}</p>
    <p class="small">${movie.codec} · ${movie.width_px} × ${movie.height_px} · ${movie.frame_times_s.length} frames</p>
    ${movie.question ? html`<p><b>${movie.question}</b></p>` : nothing}
    ${choice({ legend: "Frames a second that the camera took", name: "rate", layout: "wide", quiet: movie.question !== "", value: draft.rate, options, pick: (rate) => put({ rate }) })}
    ${draft.rate === "other" ? field({ label: "True frames a second", id: "true-rate", decimal: true, value: draft.typed_rate, type: (typed_rate) => put({ typed_rate }) }) : nothing}
    ${notices(movie.notices)}
  </section>`;
}

/** @param {Draft} draft @param {(values: Partial<Draft>) => void} put */
export const gate = (draft, put) => html`
  ${choice({ legend: "The curtain runs along the picture's", name: "travel", value: draft.travel, options: [{ key: "width", words: "width" }, { key: "height", words: "height" }], pick: (travel) => put({ travel }) })}
  ${choice({ legend: "How much of the picture's middle the gate fills", name: "share", value: draft.share, options: SHARES, pick: (share) => put({ share }) })}
  ${field({ label: "Exposure of each frame, as a share of the frame interval", id: "duty", decimal: true, value: draft.duty, help: "If you know it: 0.9 for 1/267 s at 240 frames a second. Left empty, a wider doubt is taken.", type: (duty) => put({ duty }) })}`;

/** @param {Draft} draft @param {{ choose: (event: Event) => void, take: () => void, clear: () => void }} act The phone's tone curve, by stepping the aperture. */
export const tone = (draft, { choose, take, clear }) => html`<details>
  <summary>The phone's tone curve, for times faster than a frame</summary>
  <p>With the same lock and light, film the shutter held open on B while the aperture ring goes down stop by stop from wide open. Show that clip here, stop it at each step, and take its level: the widest first, three steps at least.</p>
  <label class="button file"><input type="file" id="tone-file" accept="video/*" @change=${choose} /><span>Choose that clip</span></label>
  <video id="tone-video" class="clip-video" controls muted playsinline aria-label="The clip with the stepped aperture" ?hidden=${!draft.tone_shown}></video>
  <div class="actions">
    <button type="button" ?disabled=${!draft.tone_shown} @click=${take}>Take this level</button>
    <button type="button" ?disabled=${draft.tone_steps.length === 0} @click=${clear}>Begin anew</button>
  </div>
  <p role="status">${draft.tone_steps.length === 0 ? "No level taken." : `${draft.tone_steps.length} taken, the widest first.`}</p>
</details>`;
