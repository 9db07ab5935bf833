/**
 * Files in: chosen, looked at before anything is written, then taken in beside what is there.
 * Not here: what a file may hold, which the bench says; files out (`file.js`).
 *
 * @import { Inspection, Taken } from "../bench/shapes.js"
 */

import { bench } from "../bench/client.js";
import { ACCEPT, readText } from "../capture/take.js";
import * as inspections from "../store/inspections.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { at, to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { nameOf } from "./name.js";

/** @type {unknown} */
let wrong = "";
/** @type {unknown} */
let news = "";
let busy = false;
/** @type {Taken | null} */
let taken = null;
/** What taking in would do, one for each inspection. @type {string[]} */
let fates = [];
/** So many are listed; the rest is counted. */
const SHOWN = 20;

/** @param {Inspection} one */
async function fate(one) {
  const there = await inspections.get(one.id);
  if (!there) {
    return "new here";
  }
  return (await (await bench()).same(there.inspection, one)) ? "the same is here already" : "another version is here: both will stand side by side";
}

/** @param {() => Promise<void>} work @param {() => void} again */
async function doing(work, again) {
  [wrong, news, busy] = ["", "", true];
  again();
  try {
    await work();
  } catch (error) {
    wrong = error;
  }
  busy = false;
  again();
}

/** @param {File} file */
async function read(file) {
  [taken, fates] = [null, []];
  const found = await (await bench()).readFile(await readText(file));
  fates = await Promise.all(found.inspections.map(fate));
  taken = found;
}

/** @param {Taken} found */
async function write(found) {
  let fresh = 0;
  let first = "";
  for (const one of found.inspections) {
    const { key, already } = await inspections.add(one);
    fresh += already ? 0 : 1;
    first ||= key;
  }
  taken = null;
  const words = fresh === 0 ? "Everything in it was here already." : fresh === 1 ? "One camera was taken in." : `${fresh} cameras were taken in.`;
  news = html`<p>${words}</p><a class="button" href=${found.inspections.length === 1 ? to("inspection", {}, first) : at("index")}>Look at ${found.inspections.length === 1 ? "it" : "the bench"}</a>`;
}

/** @param {Taken} found @param {() => void} again @param {() => unknown} renew */
function preview(found, again, renew) {
  const all = found.inspections;
  return html`<section class="card" aria-label="What the file holds">
    <p><b>${found.kind === "bench" ? "A bench backup" : "An inspection"}: ${all.length === 1 ? "one camera" : `${all.length} cameras`}.</b> Nothing has been written yet, and what is here is never written over.</p>
    <ul class="rows">${all.slice(0, SHOWN).map((one, i) => html`<li><b>${nameOf(one)}</b><br /><small>${one.result?.outcome_words ?? ""} · ${fates[i]}</small></li>`)}</ul>
    ${all.length > SHOWN ? html`<p class="small">and ${all.length - SHOWN} more</p>` : nothing}
    ${found.findings.length > 0 ? html`<p><b>Noticed on reading:</b></p><ul class="texts">${found.findings.map((one) => html`<li>${one}</li>`)}</ul>` : nothing}
    <div class="actions">
      <button type="button" @click=${() => { taken = null; again(); }}>Leave it</button>
      <button type="button" class="main" ?disabled=${busy || all.length === 0} @click=${() => doing(() => write(found), again).then(renew)}>Take in</button>
    </div>
  </section>`;
}

/**
 * @param {() => void} again Draws the page once more.
 * @param {() => unknown} renew The bench holds more now.
 */
export function takeIn(again, renew) {
  const chosen = (/** @type {Event} */ event) => {
    const input = /** @type {HTMLInputElement} */ (event.target);
    const file = input.files?.[0];
    if (file) {
      doing(() => read(file), again);
    }
    // The same file can be chosen once more.
    input.value = "";
  };
  return html`<h2>Take in</h2>
    <p class="soft">An inspection file or a bench backup from another phone.</p>
    <label class="button file"><input type="file" id="file" accept=${ACCEPT} ?disabled=${busy} @change=${chosen} /><span>${busy ? "One moment …" : "Choose a file"}</span></label>
    ${refusal(wrong)}${taken ? preview(taken, again, renew) : nothing}${happened(news)}`;
}
