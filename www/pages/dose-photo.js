/**
 * A leak's light from a photo of white paper on which it falls, for the dose.
 * Not here: what the light is, which the bench says; a photo as a reference for a meter (`photo.js`).
 *
 * @import { PaperLight } from "../bench/shapes.js"
 */

import { bench } from "../bench/client.js";
import { openPhoto, PHOTOS } from "../capture/photo.js";
import * as phones from "../store/phones.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { notices, refusal } from "../view/notice.js";

let busy = false;
/** @type {unknown} */
let wrong = "";
/** @type {PaperLight | null} */
let found = null;
/** @type {string[]} */
let known = [];

/** @param {File} file The middle of the picture is the paper. */
async function read(file) {
  const asked = await bench();
  const photo = await openPhoto(file, asked);
  try {
    const calibration = (photo.head.phone && (await phones.of(photo.head.phone)).at(-1)) || null;
    const light = await asked.photoLight(photo.bytes, await photo.sums(photo.middle(), asked), calibration);
    [found, known, wrong] = [light.on_paper, light.notices, light.refusals[0] ?? ""];
  } finally {
    photo.close();
  }
}

/** @param {Event} event @param {(light: PaperLight) => void} use @param {() => void} drawn */
async function choose(event, use, drawn) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const file = input.files?.[0];
  input.value = "";
  if (!file) {
    return;
  }
  [busy, found, wrong] = [true, null, ""];
  drawn();
  try {
    await read(file);
  } catch (error) {
    wrong = error;
  }
  busy = false;
  drawn();
  if (found) {
    use(found);
  }
}

/**
 * @param {(light: PaperLight) => void} use
 * @param {() => void} drawn Draws the page again.
 */
export const fromPhoto = (use, drawn) => html`<details ?open=${found !== null || wrong !== ""}><summary>From a photo</summary>
  <p>Lay plain white paper where the light falls: in the film gate with the lamp outside, or before the leak with the lamp inside. Photograph it in the dark with the phone's own camera, flash and night mode off, the paper in the middle of the picture, and bring the original.</p>
  <label class="button file"><input type="file" id="paper-photo" accept=${PHOTOS} @change=${(/** @type {Event} */ event) => choose(event, use, drawn)} /><span>${busy ? "Reading the light …" : "Photo of the paper"}</span></label>
  ${refusal(wrong)}
  ${found ? html`<p role="status"><b>${found.words}</b> on the paper: taken over below.</p>${notices(known)}` : nothing}
</details>`;
