/** The bench: every camera with its outcome, and the demo. Not here: what one camera is about (inspection.js). */
import { html } from "../vendor/lit-html/lit-html.js";
import { bench } from "../bench/client.js";
import * as inspections from "../store/inspections.js";
import * as bin from "../store/bin.js";
import { alertBox, run, show, wear } from "../view/frame.js";
import { call } from "../view/bits.js";
import { theme } from "../store/settings.js";

wear(theme());
/** @type {unknown} */
let wrong = "";

async function loadDemo() {
  try {
    const answer = await fetch("demo/bench.json");
    const taken = await (await bench()).readFile(await answer.text());
    for (const one of taken.inspections) {
      await inspections.add(one);
    }
  } catch (error) {
    wrong = error;
  }
  await draw();
}

/** @param {any} row */
const camera = (row) => {
  const result = row.inspection.result;
  const named = [row.inspection.camera.maker, row.inspection.camera.model].join(" ").trim() || "Not named yet";
  return html`<li>
    <h3><a class="tap" href="inspection.html?i=${encodeURIComponent(row.key)}">${named}${row.inspection.camera.serial ? ` · ${row.inspection.camera.serial}` : ""}</a></h3>
    ${result ? html`${call(result.outcome, result.outcome_words)} <span class="soft">${result.outcome_sentence}</span>
      ${result.reasons.slice(0, 2).map((/** @type {any} */ one) => html`<p class="small">${one.text}</p>`)}` : ""}
    <p class="small">last changed ${row.inspection.updated.slice(0, 10)}</p>
    ${row.beside ? html`<p class="caution">Another revision of the same inspection stands beside this one.</p>
      <div class="buttons"><button @click=${() => bin.remove(row.beside).then(() => inspections.keepBoth(row.key)).then(draw)}>Keep this one</button>
      <button @click=${() => inspections.keepBoth(row.key).then(draw)}>Keep both</button></div>` : ""}
  </li>`;
};

async function draw() {
  const rows = await inspections.list();
  show({
    title: "Bench",
    back: ["more.html", "More"],
    main: html`${alertBox(wrong)}
      ${rows.length === 0
        ? html`<div class="card"><p>Take a used film camera through its check, one thumb, five minutes.</p>
            <p class="soft">Everything stays on this phone. Begin with a camera, or look at four invented ones.</p>
            <div class="buttons"><button @click=${loadDemo}>Load the demo bench</button></div></div>`
        : html`<ul class="plain">${rows.map(camera)}</ul>`}`,
    foot: html`<a class="button" href="file.html">Take in</a><a class="button main" href="new.html">New camera</a>`,
  });
}

run(draw);
