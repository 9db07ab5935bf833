/**
 * The round: the points of one area one under another, each with its condition, note and pictures.
 * Not here: which points there are and what they look like, which the bench says; changing a finding (`finding.js`).
 *
 * @import { PointView } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { folded } from "../view/folded.js";
import { laterThan } from "../view/later.js";
import { asked, to } from "../view/links.js";
import { caution, happened, refusal } from "../view/notice.js";
import { glide, show } from "../view/shell.js";
import { addPicture, conditionOf, dropPicture, noteOf, pathOfNote, setCondition, setNote, troubleAt } from "./finding.js";
import { withCamera } from "./hand.js";
import { pictureOf } from "./pictures.js";
import { onward } from "./way.js";

const wanted = asked.get("area") ?? "";
/** What is like this wants a word or a picture. */
const WANTS_WORDS = ["worn", "faulty", "failed"];

/** @param {Hand} hand @param {PointView} point @param {string} condition @param {Event} event */
async function choose(hand, point, condition, event) {
  // With the keyboard a choice is passed through on the way to the next one; then the page must stay where it is.
  const tapped = !(/** @type {Element} */ (event.target).matches(":focus-visible"));
  const kept = await setCondition(hand, point.key, condition);
  // What is not in order wants a note or a picture first.
  if (kept && tapped && ["sound", "not_fitted"].includes(condition)) {
    const points = hand.view.areas.find((one) => one.points.some((other) => other.key === point.key))?.points ?? [];
    const later = points.slice(points.findIndex((one) => one.key === point.key) + 1);
    glide(document.getElementById(later.find((one) => one.condition === "not_checked")?.key ?? ""));
  }
}

/** @param {Hand} hand @param {PointView} point */
function pictures(hand, point) {
  if (!point.picture_helps && point.photos.length === 0) {
    return nothing;
  }
  const add = (/** @type {Event} */ event) => {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    if (file) {
      addPicture(hand, point.key, file);
    }
    input.value = "";
  };
  return html`
    ${point.photos.length > 0
      ? html`<ul class="pictures">
          ${repeat(point.photos, (id) => id, (id, i) => html`<li>
            ${pictureOf(id, `Picture ${i + 1}: ${point.name}`, hand.draw)}
            <button type="button" aria-label="Remove picture ${i + 1} of ${point.name}" @click=${() => dropPicture(hand, point.key, id)}>Remove</button>
          </li>`)}
        </ul>`
      : nothing}
    <label class="button file"><input type="file" accept="image/*" @change=${add} /><span>${point.photos.length > 0 ? "Another picture" : "Add a picture"}<span class="unseen"> of ${point.name}</span></span></label>`;
}

/** @param {Hand} hand @param {PointView} point Note and pictures: open where there is something, or ought to be. */
function words(hand, point) {
  const note = noteOf(hand, point.key);
  const wrong = hand.wrongAt(pathOfNote(hand, point.key));
  const open = note !== "" || wrong !== "" || point.photos.length > 0 || WANTS_WORDS.includes(conditionOf(hand, point.key));
  return html`<details ?open=${open}>
    <summary>${point.picture_helps ? "Note or picture" : "Note"}<span class="unseen">: ${point.name}</span></summary>
    ${folded(() => html`${field({ label: "Note", id: `note-${point.key}`, long: true, value: hand.textAt(pathOfNote(hand, point.key), note), wrong, type: (text) => setNote(hand, point.key, text) })}
    ${pictures(hand, point)}`)}
  </details>`;
}

/** @param {Hand} hand @param {PointView} point @param {readonly PointView[]} before Those above it. */
function card(hand, point, before) {
  const condition = conditionOf(hand, point.key);
  // Said once is heard; said at every point it is passed over.
  const said = before.some((one) => one.caution === point.caution);
  const chosen = point.choices.find((one) => one.key === condition);
  return html`<section class="card point" id=${point.key} tabindex="-1" aria-labelledby="q-${point.key}">
  <p class="small">${point.name} · ${point.costs_words}</p>
  <h2 id="q-${point.key}">${point.question}</h2>
  ${said ? nothing : caution(point.caution)}
  ${choice({ legend: `Condition: ${point.name}`, name: `condition-${point.key}`, layout: "three", quiet: true, value: condition, options: point.choices.map(({ key, words }) => ({ key, words })),
    pick: (key, event) => choose(hand, point, key, event) })}
  <p class="looks" aria-live="polite"><b>${chosen?.words ?? point.condition_words}</b>: ${chosen?.looks}</p>
  ${refusal(troubleAt(point.key))}
  <details>
    <summary>What to look for</summary>
    ${folded(() => html`<dl>${point.choices.slice(0, 4).map((one) => html`<dt>${one.words}</dt><dd>${one.looks}</dd>`)}</dl>
    ${said ? caution(point.caution) : nothing}
    <p class="small">If it is bad: ${point.remedy} <span class="source">Source: ${point.source}.</span></p>`)}
  </details>
  ${words(hand, point)}
</section>`;
}

/** @param {Hand} hand */
function draw(hand) {
  const next = onward(hand, "button main");
  const areas = hand.view.areas;
  const here = Math.max(0, areas.findIndex((one) => one.key === wanted));
  const [area, before, after] = [areas[here], areas[here - 1], areas[here + 1]];
  if (!area) {
    return;
  }
  show({
    title: area.name,
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(hand.wrong)}${happened(hand.news)}
      <p class="lead" aria-live="polite"><b>${area.progress}</b> looked at. What you do not look at stays “not checked”, and is said so.</p>
      ${area.key === "seals" ? html`<div class="actions two"><a class="button" href=${to("seals")}>Seal by seal on the open back</a><a class="button" href=${to("roll")}>Test roll</a></div>` : nothing}
      ${area.key === "shutter" ? html`<p><a class="button" href=${to("shutter")}>Measure every marked time</a></p>` : nothing}
      ${area.key === "lens" ? html`<div class="actions two"><a class="button" href=${to("openings")}>Measure the openings</a><a class="button" href=${to("glare")}>Compare scattered light</a></div>` : nothing}
      ${area.key === "meter" ? html`<p><a class="button" href=${to("meter")}>Measure the meter against a reference</a></p>` : nothing}
      <div class="points">${repeat(area.points, (point) => point.key, laterThan(2, (point, i) => card(hand, point, area.points.slice(0, i))))}</div>`,
    foot: html`${before && !next ? html`<a class="button" href=${to("round", { area: before.key })}><span>Back<span class="unseen"> to ${before.name}</span></span></a>` : nothing}
      ${next ?? (after
        ? html`<a class="button main" href=${to("round", { area: after.key })}><span>${after.name} <small>${after.progress}</small></span></a>`
        : html`<a class="button main" href=${to("inspection")}>Outcome</a>`)}`,
  });
}

withCamera(draw);
