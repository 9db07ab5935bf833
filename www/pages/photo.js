/**
 * A photo taken with this phone as a reference: chosen, a patch put on it, its light read as the patch moves, and taken into the
 * next level; or, beside a trusted meter, used to calibrate the phone.
 * Not here: what the light is (the bench); calibrating (`photo-calibrating.js`).
 *
 * @import { PhoneCalibration, PhotoLight, PhotoPatch } from "../bench/shapes.js"
 * @import { PhotoFile } from "../capture/photo.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { mayLock } from "../capture/locked-camera.js";
import { openPhoto, PHOTOS } from "../capture/photo.js";
import * as phones from "../store/phones.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { at, to } from "../view/links.js";
import { happened, notices, refusal } from "../view/notice.js";
import { patchOn } from "../view/patch.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";
import { calibratingPart } from "./photo-calibrating.js";
import { useLight } from "./use-light.js";

const theBench = await bench();
/** @type {PhotoFile | null} */
let photo = null;
let address = "";
/** @type {PhotoPatch} */
let patch = { x: 0, y: 0, width: 1, height: 1 };
/** @type {PhotoLight | null} */
let light = null;
/** @type {PhoneCalibration | null} */
let calibration = null;
let busy = "";
/** @type {unknown} */
let wrong = "";
/** Only the newest patch counts: one is read at a time, and the latest after it. */
let [reading, again] = [false, false];

/** @param {Hand} hand */
async function read(hand) {
  if (reading || !photo) {
    again = true;
    return;
  }
  reading = true;
  const now = photo;
  try {
    do {
      again = false;
      const sums = await now.sums(patch, theBench);
      const found = await theBench.photoLight(now.bytes, sums, calibration);
      if (now === photo) {
        [light, wrong] = [found, ""];
      }
      hand.draw();
    } while (again && now === photo);
  } catch (error) {
    [light, wrong] = [null, error];
  }
  reading = false;
  if (again) {
    read(hand);
  }
  hand.draw();
}

/** @param {Hand} hand The phone's latest calibration, and the light by it. */
async function calibrated(hand) {
  calibration = (photo && photo.head.phone && (await phones.of(photo.head.phone)).at(-1)) || null;
  read(hand);
}

/** @param {Hand} hand @param {Event} event */
async function choose(hand, event) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const file = input.files?.[0];
  input.value = "";
  if (!file) {
    return;
  }
  photo?.close();
  URL.revokeObjectURL(address);
  [photo, light, busy, wrong] = [null, null, "Opening the photo …", ""];
  hand.draw();
  try {
    photo = await openPhoto(file, theBench);
    patch = photo.middle();
    address = photo.bitmap ? URL.createObjectURL(file) : "";
    await calibrated(hand);
  } catch (error) {
    wrong = error;
  }
  busy = "";
  hand.draw();
}

/** @param {Hand} hand @param {PhotoLight} found */
function use(hand, found) {
  const note = calibration ? `${photo?.head.phone}, calibrated ${calibration.at.slice(0, 10)}` : photo?.head.phone ?? "";
  const { typed, each_doubt_stops, shared_doubt_stops } = found;
  return useLight(hand, { reference: { kind: "photo", each_doubt_stops, shared_doubt_stops, surface: "", note }, way: "ev", typed, own_doubt_stops: each_doubt_stops });
}

const guide = html`<details open><summary>How to take it</summary><ul>
  <li>Photograph what the camera's meter sees, from beside it: a grey card, a plain lit wall, another screen; evenly lit, filling the picture.</li>
  <li>With the phone's own camera app: no portrait, night or panorama, no filter, flash off. Tap the target, so that it comes out mid-grey.</li>
  <li>Bring the original from the library. A picture that was sent, edited or taken as a screenshot says nothing of its exposure.</li>
</ul><p class="small">A place that the photo may carry is not read, and the photo is not kept.</p></details>`;

/** @param {PhotoLight} found */
const answer = (found) => html`<section class="card" aria-live="polite" aria-label="The light of the patch">
  ${found.refusals.length > 0
    ? found.refusals.map((text) => refusal(text))
    : html`<p class="headline"><b class="big">${found.ev_words}</b> <span class="soft"><span>${found.doubt_words}</span> <span>${found.luminance_words}</span></span></p>
      <details><summary>Where the doubt comes from</summary><dl class="parts">${found.parts.map((part) => html`<dt>${part.name}</dt><dd>${part.words}</dd>`)}</dl></details>`}
  ${notices(found.notices)}
</section>`;

/** @param {Hand} hand */
function draw(hand) {
  const ready = light !== null && light.refusals.length === 0;
  const [file, bitmap] = [photo, photo?.bitmap];
  show({
    title: "Photo",
    about: hand.view.title,
    up: [to("level"), "Level"],
    main: html`${refusal(wrong || hand.wrong)}${happened(hand.news || busy)}
      ${file ? nothing : guide}
      ${light ? answer(light) : file && !wrong ? html`<section class="card"><p class="soft">Reading the light …</p></section>` : nothing}
      ${file && bitmap ? patchOn({ address, words: "The photo", picture: bitmap, patch, put: (now) => { patch = now; hand.draw(); read(hand); } }) : nothing}
      ${file ? html`<p class="small">${[file.name, file.head.exposure_words, file.head.phone].filter((one) => one).join(" · ")}<br />
        ${calibration ? `By this phone's calibration of ${calibration.at.slice(0, 10)}: ${calibration.words}.` : "This phone and lens were not calibrated yet."} <a class="tap" href=${at("phones")}>Calibrations</a></p>` : nothing}
      <label class="button file"><input type="file" id="photo-file" accept=${PHOTOS} @change=${(/** @type {Event} */ event) => choose(hand, event)} /><span>${file ? "Another photo" : "Choose the photo"}</span></label>
      ${mayLock() ? html`<p class="small">This browser may lock the camera's exposure: <a class="tap" href=${to("live")}>read differences live</a></p>` : nothing}
      ${file && light && ready ? calibratingPart({ phone: file.head.phone, light, again: () => hand.draw(), made: () => calibrated(hand) }) : nothing}`,
    foot: html`<a class="button" href=${to("level")}>Back</a><button type="button" class="main" ?disabled=${!ready} @click=${() => light && use(hand, light)}>Use this light</button>`,
  });
}

addEventListener("pagehide", () => photo?.close());

withCamera(draw);
