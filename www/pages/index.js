/**
 * The bench: every camera with its outcome, and the way to a new one or to the demo.
 * Not here: what one camera is about (`inspection.js`).
 *
 * @import { Row } from "../store/database.js"
 */

import { bench } from "../bench/client.js";
import * as bin from "../store/bin.js";
import { onElsewhere } from "../store/database.js";
import { carryOver } from "../store/edit.js";
import * as inspections from "../store/inspections.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { call } from "../view/call.js";
import { asked, at, to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { run, show } from "../view/shell.js";
import { nameOf } from "./name.js";

/** @type {Row[]} */
let rows = [];
/** @type {unknown} */
let wrong = "";
let loading = false;
/** @type {string | null} Key of the camera that was just put into the bin. */
let binned = asked.get("binned");
/** How far each camera is, as soon as the bench has said so. @type {Map<string, string>} */
const progress = new Map();
const state = (/** @type {Row} */ row) => `${row.key} ${row.inspection.revision}`;

async function loadDemo() {
  loading = true;
  wrong = "";
  draw();
  try {
    const answer = await fetch("demo/bench.json");
    if (!answer.ok) {
      throw new Error("the demo bench could not be fetched: try again with a connection");
    }
    const taken = await (await bench()).readFile(await answer.text());
    for (const one of taken.inspections) {
      await inspections.add(one);
    }
  } catch (error) {
    wrong = error;
  }
  loading = false;
  await renew();
}

/** @param {() => Promise<unknown>} work */
async function doing(work) {
  try {
    wrong = "";
    await work();
  } catch (error) {
    wrong = error;
  }
  await renew();
}

const unbin = () => doing(async () => {
  await bin.restore(binned ?? "");
  binned = null;
  history.replaceState(null, "", at("index"));
});

/** @param {Row} row */
const beside = (row) => html`<div class="beside">
  <p>This camera came in twice with different content. Keep the one, or both.</p>
  <div class="actions">
    <button type="button" @click=${() => doing(() => bin.remove(row.beside ?? "").then(() => inspections.keepBoth(row.key)))}>Keep this one</button>
    <button type="button" @click=${() => doing(() => bin.remove(row.key))}>Keep the other</button>
    <button type="button" @click=${() => doing(() => inspections.keepBoth(row.key))}>Keep both</button>
  </div>
</div>`;

/** @param {Row} row */
const camera = (row) => {
  const { result, updated } = row.inspection;
  return html`<li class="camera leads">
    <h2><a href=${to("inspection", {}, row.key)}>${nameOf(row.inspection)}</a></h2>
    ${result ? html`<p>${call(result.outcome, result.outcome_words)}</p>
      <ul class="why">${result.reasons.slice(0, 2).map((one) => html`<li>${one.text}</li>`)}</ul>` : nothing}
    <p class="small">${updated.slice(0, 10)} · ${progress.get(state(row)) ?? "…"}</p>
    ${row.beside ? beside(row) : nothing}
  </li>`;
};

const empty = () => html`<section class="card">
  <p>Take a used film camera through its whole check: seals, lens, shutter, meter, body. At the end there is a word for it, the reasons, and a sheet.</p>
  <p class="soft">Everything stays on this phone. Begin with a camera of your own, or look at four invented ones.</p>
  <div class="actions"><button type="button" ?disabled=${loading} @click=${loadDemo}>${loading ? "One moment …" : "Load the demo bench"}</button></div>
</section>`;

function draw() {
  show({
    title: "Bench",
    up: [at("more"), "More"],
    main: html`${refusal(wrong)}
      ${happened(binned ? html`<p>The camera is in the bin and stays there for ${bin.DAYS} days.</p><button type="button" @click=${unbin}>Undo</button>` : "")}
      ${rows.length === 0 ? empty() : html`<ul class="cameras">${repeat(rows, (row) => row.key, camera)}</ul>`}`,
    foot: html`<a class="button" href=${at("file")}>Files</a><a class="button main" href=${at("new")}>New camera</a>`,
  });
}

async function renew() {
  rows = await inspections.list();
  draw();
  const missing = rows.filter((row) => !progress.has(state(row)));
  for (const row of missing) {
    try {
      progress.set(state(row), (await (await bench()).view(row.inspection)).view.progress);
    } catch {
      progress.set(state(row), "not to be read: open it to see why");
    }
  }
  if (missing.length > 0) {
    draw();
  }
}

run(async () => {
  await carryOver();
  await renew();
});
onElsewhere(() => void renew());
addEventListener("pageshow", (event) => event.persisted && renew());
