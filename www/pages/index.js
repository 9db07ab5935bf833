/**
 * The bench: every camera with its outcome, found by a few letters, and the way to a new one or to the demo. The module behind the
 * bench is not needed for it.
 * Not here: what one camera is about (`inspection.js`).
 *
 * @import { Summary } from "../store/database.js"
 */

import { bench } from "../bench/client.js";
import * as bin from "../store/bin.js";
import { onElsewhere } from "../store/tabs.js";
import { carryOver } from "../store/edit.js";
import * as inspections from "../store/inspections.js";
import { all, newest } from "../store/summaries.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { guard } from "../vendor/lit-html/directives/guard.js";
import { call } from "../view/call.js";
import { asked, at, to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { inPlace, run, show } from "../view/shell.js";
import { Finding } from "./find.js";
import { nameOf } from "./name.js";
import { followProgram, renewal } from "./renewal.js";

/** So many cameras are drawn at a time, and from so many on they can be searched. */
const PORTION = 40;
const MANY = 8;

/** @type {Summary[]} */
let lines = [];
/** Whether these are all of them. */
let complete = false;
let shown = PORTION;
/** @type {unknown} */
let wrong = "";
let loading = false;
const finding = new Finding(() => {
  shown = PORTION;
  draw();
});
/** @type {string | null} Key of the camera that was just put into the bin. */
let binned = asked.get("binned");

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

/** @param {Summary} row */
const beside = (row) => html`<div class="beside">
  <p>This camera came in twice with different content. Keep the one, or both.</p>
  <div class="actions">
    <button type="button" @click=${() => doing(() => bin.remove(row.beside ?? "").then(() => inspections.keepBoth(row.key)))}>Keep this one</button>
    <button type="button" @click=${() => doing(() => bin.remove(row.key))}>Keep the other</button>
    <button type="button" @click=${() => doing(() => inspections.keepBoth(row.key))}>Keep both</button>
  </div>
</div>`;

/** @param {Summary} line */
const camera = (line) => html`<li class="camera leads">
    <h2><a href=${to("inspection", {}, line.key)}>${nameOf(line)}</a></h2>
    ${line.outcome ? html`<p>${call(line.outcome, line.outcome_words)}</p>
      <ul class="why">${line.reasons.map((text) => html`<li>${text}</li>`)}</ul>` : nothing}
    <p class="small">${line.updated.slice(0, 10)} · ${line.progress}${line.open > 0 ? ` · ${line.open} open that ${line.open === 1 ? "matters" : "matter"}` : ""}</p>
    ${line.beside ? beside(line) : nothing}
  </li>`;

/** @param {readonly Summary[]} found Portion by portion, so that one more costs what one portion costs. */
function list(found) {
  const portions = Array.from({ length: Math.ceil(Math.min(shown, found.length) / PORTION) }, (_, i) => found.slice(i * PORTION, (i + 1) * PORTION));
  return html`
    ${portions.map((portion) => html`<ul class="cameras">${guard(portion.map((line) => `${line.key} ${line.updated} ${line.beside}`), () => portion.map(camera))}</ul>`)}
    ${found.length > shown ? html`<div class="actions"><button type="button" id="further" @click=${further}>Show ${Math.min(PORTION, found.length - shown)} more</button></div>` : nothing}`;
}

function further() {
  shown += PORTION;
  draw();
}

const empty = () => html`<section class="card">
  <p>Take a used film camera through its whole check: seals, lens, shutter, meter, body. At the end there is a word for it, the reasons, and a sheet.</p>
  <p class="soft">Everything stays on this phone. Begin with a camera of your own, or look at four invented ones, one of them before and after its service.</p>
  <div class="actions"><button type="button" ?disabled=${loading} @click=${loadDemo}>${loading ? "One moment …" : "Load the demo bench"}</button></div>
</section>`;

function draw() {
  const found = finding.found(lines);
  show({
    title: "Bench",
    up: [at("more"), "More"],
    main: html`${refusal(wrong)}${renewal(draw)}
      ${happened(binned ? html`<p>The camera is in the bin and stays there for ${bin.DAYS} days.</p><button type="button" @click=${unbin}>Undo</button>` : "")}
      ${lines.length === 0 ? empty() : html`${complete && lines.length > MANY ? finding.asking(lines, found) : nothing}${list(found)}`}`,
    foot: html`<a class="button" href=${at("file")}>Files</a><a class="button main" href=${at("new")}>New camera</a>`,
  });
  inPlace().then(watch, () => {});
}

/** What is reached by scrolling comes by itself; the button is for the keyboard. */
function watch() {
  const next = document.getElementById("further");
  if (next && next !== watched) {
    watcher.disconnect();
    watcher.observe(next);
    watched = next;
  }
}

/** @type {Element | null} */
let watched = null;
const watcher = new IntersectionObserver((seen) => {
  if (seen.some((one) => one.isIntersecting)) {
    watched = null;
    watcher.disconnect();
    further();
  }
}, { rootMargin: "600px" });

async function renew() {
  if (!complete) {
    lines = await newest(PORTION);
    draw();
  }
  lines = await all();
  complete = true;
  draw();
}

run(async () => {
  await Promise.all([carryOver(), followProgram(draw)]);
  await renew();
});
onElsewhere(() => void renew());
addEventListener("pageshow", (event) => event.persisted && renew());
