/**
 * What the strips of a test roll tell: frame by frame with its density map, the walls with their profile, how each strip lies.
 * Not here: the answers, which the bench says; measuring a photo (`strip.js`).
 *
 * @import { RollFrameResult, RollWallResult } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { drawing } from "../plot/drawing.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { call } from "../view/call.js";
import { choice } from "../view/choice.js";
import { to } from "../view/links.js";
import { notices } from "../view/notice.js";

/** @param {Hand} hand @param {"frames" | "walls"} list @param {number} at */
const remove = (hand, list, at) => hand.apply((draft) => {
  const [gone] = draft.test_roll[list].splice(at, 1);
  const photo = gone && "photo" in gone ? gone.photo : "";
  draft.photos = draft.photos.filter((one) => photo === "" || one.id !== photo);
}, "frame removed");

/** The word in its box as the other calls have it. @param {string} key */
const box = (key) => (key === "dark" ? "within" : key === "light" ? "outside" : "cannot_tell");

/** @param {Hand} hand @param {RollFrameResult} told @param {number} i */
function frame(hand, told, i) {
  const entry = hand.inspection.test_roll.frames[i];
  const map = hand.view.test_roll.maps[i];
  if (!entry) {
    return nothing;
  }
  return html`<section class="card" aria-label="Frame ${i + 1}">
    <p>${call(box(told.call), told.call_words)} <span class="soft">${told.frame_words}</span></p>
    <p aria-live="polite">${told.sentence}</p>
    ${map ? html`<figure class="film-map">${drawing(map)}<figcaption>Density above the base, as the strip lies on the photo. Broken line: the gate.</figcaption></figure>` : nothing}
    ${notices(entry.notices.map((one) => one.text))}
    <details ?open=${entry.lies === "unknown"}><summary>How the strip lies<span class="unseen">: frame ${i + 1}</span></summary>
      ${choice({ legend: "On the photo of this strip", name: `lies-${i}`, layout: "wide", value: entry.lies, options: hand.view.test_roll.lies, pick: (key) => hand.change(["test_roll", "frames", i, "lies"], key) })}
    </details>
    <p class="small">${entry.source}${entry.photo ? ", kept as evidence" : ", thrown away"}</p>
    <div class="actions"><button type="button" @click=${() => remove(hand, "frames", i)}>Remove<span class="unseen"> frame ${i + 1}</span></button></div>
  </section>`;
}

/** @param {Hand} hand @param {RollWallResult} told @param {number} i */
function wall(hand, told, i) {
  const entry = hand.inspection.test_roll.walls[i];
  const plot = hand.view.test_roll.profiles[i];
  const times = [{ key: "", words: "not said" }, ...hand.view.test_roll.times];
  return html`<section class="card" aria-label="Wall ${i + 1}">
    <p>${call(told.call, told.call_words)} <span class="soft">wall${told.mark ? `, ${told.mark}` : ""}</span></p>
    <p class="headline"><b>${told.figure}</b></p>
    <p>${told.sentence} ${told.settle ? html`<b>${told.settle}</b>` : nothing}</p>
    ${plot ? html`<figure>${drawing(plot)}</figure>` : nothing}
    ${notices(entry?.notices.map((one) => one.text) ?? [])}
    <details ?open=${told.mark === ""}><summary>Marked time<span class="unseen"> of wall ${i + 1}</span></summary>
      ${choice({ legend: "The wall was exposed at", name: `time-${i}`, value: entry?.time ?? "", options: times, pick: (key) => hand.change(["test_roll", "walls", i, "time"], key) })}
    </details>
    <div class="actions"><button type="button" @click=${() => remove(hand, "walls", i)}>Remove<span class="unseen"> wall ${i + 1}</span></button></div>
  </section>`;
}

/** @param {Hand} hand */
export function answers(hand) {
  const told = hand.inspection.result?.test_roll;
  if (!told || (told.frames.length === 0 && told.walls.length === 0)) {
    return nothing;
  }
  const { drawing: back, points } = hand.view.test_roll;
  return html`<section aria-label="What the roll tells">
    ${points ? html`<figure class="back">${drawing(back)}<figcaption>Heavy broken outline: the roll points here. Seen from behind, the back open. <a href=${to("seals")}>The seals</a></figcaption></figure>` : nothing}
    ${told.frames.map((one, i) => frame(hand, one, i))}
    ${told.walls.map((one, i) => wall(hand, one, i))}
    ${told.missing.length > 0 ? html`<h2>Not tried</h2><ul>${told.missing.map((one) => html`<li>${one}</li>`)}</ul>` : nothing}
  </section>`;
}
