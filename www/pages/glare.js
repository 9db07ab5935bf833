/**
 * The light that a lens scatters: up to four photos, the hole found by a tap, the figure put against an earlier one.
 * Not here: measuring it and what it says (the bench); how to set it up (`glare-parts.js`).
 *
 * @import { GlarePhotos, GlareSample, Hole } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { openPicture } from "../capture/pixels.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { to } from "../view/links.js";
import { happened, notices, refusal } from "../view/notice.js";
import { overlaid } from "../view/overlaid.js";
import { show } from "../view/shell.js";
import { comparison, guide, LABELS, PHOTOS, torch } from "./glare-parts.js";
import { withCamera } from "./hand.js";

/** @typedef {"with_normal" | "with_long" | "without_normal" | "without_long"} Slot */
/** @typedef {{ file: File, address: string, hole: Hole, sample: GlareSample, words: string }} Taken */

const theBench = await bench();
/** @type {Map<Slot, Taken>} */
const taken = new Map();
/** @type {Map<Slot, unknown>} */
const trouble = new Map();
/** @type {Map<Slot, { file: File, address: string }>} Opened, and no hole found in it yet. */
const waiting = new Map();
let label = "";
let own = "";
let busy = "";
/** @type {unknown} */
let wrong = "";

/** @param {Slot} slot @returns {Slot} The photo that shows the hole best: the normal one of the same set-up. */
const normalOf = (slot) => (slot.startsWith("with_") ? "with_normal" : "without_normal");

/** @param {Hand} hand @param {Slot} slot @param {File} file @param {{ x: number, y: number } | null} tap Where the hole is; for a long photo it lies where it lay in the normal one. */
async function read(hand, slot, file, tap) {
  busy = "Measuring …";
  trouble.delete(slot);
  draw(hand);
  try {
    const picture = await openPicture(file, theBench);
    try {
      const address = await picture.preview();
      waiting.set(slot, { file, address });
      const reduced = await picture.reduced(theBench);
      const before = slot === normalOf(slot) || tap ? undefined : taken.get(normalOf(slot));
      const at = tap ?? { x: 0.5, y: 0.5 };
      const hole = before?.hole ?? (await theBench.findHole(reduced, { x: at.x * reduced.width, y: at.y * reduced.height }));
      const sample = await theBench.glareSample(picture.field(hole), hole, picture.about.ev100, file.name);
      taken.set(slot, { file, address, hole, sample, words: picture.about.exposure_words || "no exposure data" });
      waiting.delete(slot);
    } finally {
      picture.close();
    }
  } catch (error) {
    taken.delete(slot);
    trouble.set(slot, error);
  }
  busy = "";
  draw(hand);
}

/** @param {Hand} hand */
async function measure(hand) {
  wrong = "";
  /** @param {Slot} slot */
  const sample = (slot) => taken.get(slot)?.sample ?? null;
  /** @type {GlarePhotos} */
  const photos = {
    label: label === "own" ? own : label,
    with_normal: sample("with_normal"), with_long: sample("with_long"), without_normal: sample("without_normal"), without_long: sample("without_long"),
  };
  try {
    const measured = await theBench.measureGlare(photos);
    if (await hand.apply((draft) => { draft.lens_measurements.glare.push(measured); }, "scattered light")) {
      for (const { address } of taken.values()) {
        URL.revokeObjectURL(address);
      }
      taken.clear();
      label = "after cleaning";
    }
  } catch (error) {
    wrong = error;
  }
  draw(hand);
}

/** @param {Hand} hand @param {typeof PHOTOS[number]} photo */
function slot(hand, { key, name, help }) {
  const one = taken.get(key);
  const shown = one ?? waiting.get(key);
  const choose = (/** @type {Event} */ event) => {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    input.value = "";
    if (file) {
      read(hand, key, file, null);
    }
  };
  return html`<section class="card" aria-label=${name}>
    <p><b>${name}</b>${one ? html` <span class="soft">${one.words}</span>` : nothing}</p>
    ${one ? nothing : html`<p class="small">${help}</p>`}
    ${shown ? overlaid({ address: shown.address, words: name, over: one?.hole.outline ?? null, tap: (at) => read(hand, key, shown.file, at) }) : nothing}
    ${one ? html`<p class="small">The line is the hole that was found. If it is not, tap the middle of the hole.</p>` : nothing}
    ${refusal(trouble.get(key))}
    <label class="button file"><input type="file" id="glare-${key}" accept="image/*" @change=${choose} /><span>${one ? "Another picture" : "Choose the picture"}<span class="unseen">: ${name}</span></span></label>
  </section>`;
}

/** @param {Hand} hand */
function draw(hand) {
  const { lens_measurements, result } = hand.inspection;
  label ||= lens_measurements.glare.length === 0 ? "before cleaning" : "after cleaning";
  const remove = (/** @type {number} */ at) => hand.apply((draft) => { draft.lens_measurements.glare.splice(at, 1); }, "scattered light removed");
  show({
    title: "Light scattered by the lens",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(wrong || hand.wrong)}${happened(hand.news || busy)}
      ${result?.lens_measurements ? comparison(lens_measurements, result.lens_measurements, remove) : html`<section class="card"><p><b>Only ever a comparison.</b></p>${notices([hand.view.aperture.glare_meaning])}</section>`}
      ${guide(lens_measurements.glare.length === 0)}${torch(hand.view)}
      ${choice({ legend: "This measurement is of the lens", name: "label", layout: "wide", value: label, options: LABELS, pick: (key) => { label = key; draw(hand); } })}
      ${label === "own" ? field({ label: "In your own words", id: "own-label", value: own, type: (text) => { own = text; } }) : nothing}
      ${PHOTOS.map((photo) => slot(hand, photo))}`,
    foot: html`<a class="button" href=${to("inspection")}>Back</a><button type="button" class="main" ?disabled=${busy !== "" || !taken.has("with_normal")} @click=${() => measure(hand)}>${taken.has("with_long") || !taken.has("with_normal") ? "Work it out" : "Work out a rough figure"}</button>`,
  });
}

withCamera(draw);
