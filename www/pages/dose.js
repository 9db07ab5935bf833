/**
 * How long the loaded camera may lie: a leak's light and the film go in, the bench says the time and its doubt.
 * Not here: any number, which the bench works out.
 *
 * @import { Dose, DoseAsked, Lists } from "../bench/shapes.js"
 */

import { bench } from "../bench/client.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { notices, refusal } from "../view/notice.js";
import { fromPhoto } from "./dose-photo.js";

/** @type {DoseAsked} */
const asked = { illuminance: "", doubt: "", found_in: "", film_speed: "400", minutes: "" };
/** @type {Dose | null} */
let answer = null;
/** @type {unknown} */
let wrong = "";
let turn = 0;

/** @param {Partial<DoseAsked>} change @param {() => void} drawn */
async function ask(change, drawn) {
  Object.assign(asked, change);
  const mine = (turn += 1);
  wrong = "";
  if (asked.illuminance.trim() === "") {
    answer = null;
    drawn();
    return;
  }
  try {
    const given = await (await bench()).dose(asked);
    if (mine === turn) {
      answer = given;
    }
  } catch (error) {
    if (mine === turn) {
      [answer, wrong] = [null, error];
    }
  }
  if (mine === turn) {
    drawn();
  }
}

/** @param {Dose} dose */
function said(dose) {
  return html`<section class="card" aria-live="polite">
    <p class="small">Fog shows after about</p>
    <p class="big">${dose.time_words}</p>
    <p>${dose.doubt_words}</p>
    ${dose.after ? html`<p>${dose.after.sentence}</p>` : nothing}
    ${dose.lights.length > 0
      ? html`<h3>The same leak, the loaded camera lying …</h3>
        <ul class="rows">${dose.lights.map((one) => html`<li><b>${one.words}</b>: keep below ${one.low_words}; it shows after about ${one.time_words}</li>`)}</ul>`
      : nothing}
    ${notices(dose.notices)}
  </section>`;
}

/** @param {Lists} lists @param {() => void} drawn Draws the page again. */
export function dose(lists, drawn) {
  return html`<h2>How long may it lie loaded?</h2>
    <p>Enter the light that a leak puts on the film, from a reading or an estimate, or take it from a photo.</p>
    ${fromPhoto(({ illuminance, doubt }) => ask({ illuminance, doubt }, drawn), drawn)}
    ${field({ label: "Light on the film, lux", id: "illuminance", decimal: true, value: asked.illuminance, wrong: wrong ? String(/** @type {Error} */ (wrong).message ?? wrong) : "", help: "such as 0.000001", type: (illuminance) => ask({ illuminance }, drawn) })}
    ${choice({ legend: "Found with the camera lying", name: "found-in", layout: "wide", value: asked.found_in, options: [...lists.lights, { key: "", words: "not known", help: "" }], pick: (found_in) => ask({ found_in }, drawn) })}
    <div class="triple">
      ${field({ label: "Film speed", id: "film-speed", decimal: true, value: asked.film_speed, type: (film_speed) => ask({ film_speed }, drawn) })}
      ${field({ label: "Doubt, stops", id: "doubt", decimal: true, value: asked.doubt, type: (doubt) => ask({ doubt }, drawn) })}
      ${field({ label: "Lies, minutes", id: "minutes", decimal: true, value: asked.minutes, type: (minutes) => ask({ minutes }, drawn) })}
    </div>
    ${answer ? said(answer) : refusal("")}`;
}
