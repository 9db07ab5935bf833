/**
 * The bin: removed cameras for thirty days.
 * Not here: putting one in (`inspection.js`).
 *
 * @import { Summary } from "../store/database.js"
 */

import * as bin from "../store/bin.js";
import { onElsewhere } from "../store/tabs.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { at } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { run, show } from "../view/shell.js";
import { nameOf } from "./name.js";

/** @type {unknown} */
let wrong = "";
let news = "";
let sure = false;

/** @param {() => Promise<unknown>} work @param {string} done */
async function doing(work, done) {
  [wrong, news, sure] = ["", "", false];
  try {
    await work();
    news = done;
  } catch (error) {
    wrong = error;
  }
  await draw();
}

/** @param {Summary} row */
const camera = (row) => html`<li class="split">
  <span><b>${nameOf(row)}</b><br /><small>${row.outcome_words} · removed ${row.removed?.slice(0, 10)}</small></span>
  <button type="button" aria-label="Put ${nameOf(row)} back" @click=${() => doing(() => bin.restore(row.key), `${nameOf(row)} is back on the bench.`)}>Put back</button>
</li>`;

const emptying = () =>
  sure
    ? html`<p><b>They are gone for good then, with their pictures.</b></p>
        <div class="actions"><button type="button" @click=${() => { sure = false; draw(); }}>Keep them</button><button type="button" @click=${() => doing(bin.empty, "The bin is empty.")}>Empty it for good</button></div>`
    : html`<div class="actions"><button type="button" @click=${() => { sure = true; draw(); }}>Empty the bin …</button></div>`;

async function draw() {
  const rows = await bin.listRemoved();
  show({
    title: "Bin",
    up: [at("index"), "Bench"],
    main: html`${refusal(wrong)}${happened(news)}
      <p class="soft">What is removed stays here for ${bin.DAYS} days and can be put back.</p>
      ${rows.length > 0 ? html`<ul class="rows">${rows.map(camera)}</ul>${emptying()}` : html`<section class="card"><p>The bin is empty.</p></section>`}`,
    foot: rows.length > 0 ? nothing : html`<a class="button" href=${at("index")}>To the bench</a>`,
  });
}

run(async () => {
  await bin.purge();
  await draw();
});
onElsewhere(() => void draw());
