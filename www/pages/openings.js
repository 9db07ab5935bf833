/**
 * The openings: a set-up checked live, many photos at once, the errors at the marked f-numbers.
 * Not here: finding an opening and judging it (the bench); reading pixels (`capture`).
 *
 * @import { FoundOpening, Place } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { shrink } from "../capture/picture.js";
import { putPhoto } from "../store/photos.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { later } from "../view/later.js";
import { to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { overlaid } from "../view/overlaid.js";
import { glide, show } from "../view/shell.js";
import { withCamera } from "./hand.js";
import { cards } from "./opening-cards.js";
import { fileOf, measureFile, measureFiles } from "./opening-photos.js";
import { answer, guide, settings, setupChecks, stops } from "./openings-parts.js";

const theBench = await bench();
/** @type {Place[]} */
let places = [];
/** Where the openings lie, as shares of the picture: a phone on a stand sees them all at one place. */
let tap = { x: 0.5, y: 0.5 };
/** @type {(FoundOpening & { address: string, file: File }) | null} The photo that the set-up is checked by. */
let trial = null;
/** @type {{ done: number, of: number, stop: AbortController } | null} */
let reading = null;
/** @type {string[]} */
let refused = [];
let busy = "";
/** @type {unknown} */
let wrong = "";

/** @param {Hand} hand @returns {string[]} */
const dial = (hand) => hand.inspection.lens.f_numbers;

/** @param {Event} event @returns {File[]} What was chosen; the same can be chosen again. */
function chosen(event) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const files = [...(input.files ?? [])];
  input.value = "";
  return files;
}

/** @param {Hand} hand @param {File} file */
async function check(hand, file) {
  [busy, wrong] = ["Looking at the set-up …", ""];
  draw(hand);
  try {
    trial = { ...(await measureFile(theBench, file, tap, "", dial(hand))), file };
  } catch (error) {
    [trial, wrong] = [null, error];
  }
  busy = "";
  draw(hand);
}

/** @param {Hand} hand @param {File[]} files */
async function take(hand, files) {
  if (files.length === 0) {
    return;
  }
  const now = { done: 0, of: files.length, stop: new AbortController() };
  [reading, refused, wrong] = [now, [], ""];
  draw(hand);
  try {
    const found = await measureFiles(theBench, files, tap, dial(hand), (done) => { now.done = done; draw(hand); }, now.stop.signal);
    refused = found.refused;
    if (!now.stop.signal.aborted && found.openings.length > 0) {
      await hand.apply((draft) => { draft.aperture.openings.push(...found.openings); }, "photos");
      trial = null;
    }
  } catch (error) {
    wrong = error;
  }
  reading = null;
  draw(hand);
  glide(document.querySelector(".refusal") ?? document.getElementById("main"));
}

/** @param {Hand} hand @param {number} at @param {{ x: number, y: number }} where Those without an opening are looked at there too. */
async function again(hand, at, where) {
  tap = where;
  [busy, wrong] = ["Measuring anew …", ""];
  draw(hand);
  try {
    const { openings } = hand.inspection.aperture;
    for (const [i, shot] of openings.entries()) {
      const file = fileOf(shot)?.file;
      if (file && (i === at || shot.area_px === null)) {
        const { opening } = await measureFile(theBench, file, where, shot.f_number, dial(hand));
        await hand.apply((draft) => {
          const { f_number, side, dropped, photo } = draft.aperture.openings[i] ?? shot;
          draft.aperture.openings[i] = { ...opening, f_number, side, dropped, photo };
        }, "opening");
      }
    }
  } catch (error) {
    wrong = error;
  }
  busy = "";
  draw(hand);
}

/** @param {Hand} hand @param {number} from @param {number} to_ The photo moves; the marks and sides stay where they are in the run. */
function move(hand, from, to_) {
  return hand.apply(({ aperture: { openings } }) => {
    const marks = openings.map(({ f_number, side }) => ({ f_number, side }));
    openings.splice(to_, 0, ...openings.splice(from, 1));
    openings.forEach((one, i) => Object.assign(one, marks[i]));
  }, "order");
}

/** @param {Hand} hand @param {number} at */
async function keep(hand, at) {
  const shot = hand.inspection.aperture.openings[at];
  const file = shot && fileOf(shot)?.file;
  if (!file) {
    return;
  }
  try {
    const { blob, width, height } = await shrink(file);
    const id = crypto.randomUUID();
    await putPhoto({ id, blob });
    await hand.apply((draft) => {
      draft.photos.push({ id, taken: new Date().toISOString(), media_type: blob.type, width_px: width, height_px: height, size_bytes: blob.size, on_sheet: false, data: null });
      Object.assign(draft.aperture.openings[at] ?? {}, { photo: id });
    }, "picture");
  } catch (error) {
    wrong = error;
    draw(hand);
  }
}

/** @param {Hand} hand @param {number} at */
const remove = (hand, at) => hand.apply((draft) => {
  const [gone] = draft.aperture.openings.splice(at, 1);
  draft.photos = draft.photos.filter((one) => one.id !== gone?.photo);
}, "photo removed");

/** @param {Hand} hand */
const trialPart = (hand) => trial
  ? html`<section class="card"><h2>The set-up</h2>
      ${overlaid({ address: trial.address, words: "The first photo", over: trial.outline, tap: (at) => { tap = at; if (trial) check(hand, trial.file); } })}
      <p class="small">The line is what would be measured. If it is not the opening, tap the middle of the opening.</p>
      ${trial.outline ? setupChecks(trial.checks) : trial.opening.notices.map((one) => html`<p class="notice">${one.text}</p>`)}</section>`
  : nothing;

/** @param {Hand} hand */
function draw(hand) {
  const { aperture, result } = hand.inspection;
  const judged = aperture.openings.length > 0 ? (result?.aperture ?? null) : null;
  const pick = (/** @type {(files: File[]) => void} */ act) => (/** @type {Event} */ event) => act(chosen(event));
  show({
    title: "Openings",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(wrong || hand.wrong)}${happened(hand.news || busy)}${refused.map((one) => refusal(one))}
      ${dial(hand).length === 0 ? html`<section class="card"><p><b>Which f-numbers does the ring have?</b> Photos are put against the marks, so these come first.</p><p><a class="tap" href=${to("camera")}>Enter the marked f-numbers</a></p></section>` : nothing}
      ${judged ? answer(judged) : html`<p class="lead">A photo of the lit opening at each stop says which marks lie, by how much, and which blade hangs. No film, no calibration, five minutes.</p>`}
      ${reading
        ? html`<p><b>Photo ${reading.done + 1} of ${reading.of}.</b> The pictures are measured on this phone and thrown away.</p><progress max=${reading.of} value=${reading.done} aria-label="Photos measured"></progress>`
        : html`${guide(!judged && !trial)}${trialPart(hand)}
          <div class="actions">
            <label class="button file"><input type="file" id="trial-file" accept="image/*" @change=${pick(([file]) => file && check(hand, file))} /><span>Check the set-up with one photo</span></label>
          </div>`}
      <div class="columns"><div>${judged ? later(() => stops(hand, judged)) : nothing}</div><div>${judged ? later(() => settings(hand)) : nothing}</div></div>
      ${cards(hand, places, { move: (a, b) => move(hand, a, b), tap: (at, where) => again(hand, at, where), keep: (at) => keep(hand, at), remove: (at) => remove(hand, at) })}`,
    foot: reading
      ? html`<button type="button" class="main" @click=${() => reading?.stop.abort()}>Stop</button>`
      : html`<button type="button" @click=${() => hand.undo()}>Undo</button><label class="button main file"><input type="file" id="opening-files" accept="image/*" multiple @change=${pick((files) => take(hand, files))} /><span>${judged ? "Add more photos" : "Choose all photos"}</span></label>`,
  });
}

withCamera(draw, async (hand) => {
  places = await theBench.places(dial(hand), "whole", "f_number");
});
