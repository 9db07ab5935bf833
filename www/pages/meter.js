/**
 * The meter run, judged: the answer first, its evidence below, what to do next at the foot.
 * Not here: entering a level (`level.js`), choosing the reference (`reference.js`).
 *
 * @import { Lists, MeterResult } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { drawing } from "../plot/drawing.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { call } from "../view/call.js";
import { choice } from "../view/choice.js";
import { later } from "../view/later.js";
import { levelRow } from "../view/level-row.js";
import { to } from "../view/links.js";
import { happened, notices, refusal } from "../view/notice.js";
import { speeds } from "../view/scales.js";
import { show } from "../view/shell.js";
import { stepper } from "../view/stepper.js";
import { withCamera } from "./hand.js";

/** @type {Lists} */
let lists;

/** @param {MeterResult} judged */
const answer = (judged) => html`<section class="card" aria-live="polite">
  <p class="headline"><b class="big">${judged.headline}</b> <span class="soft">${judged.headline_doubt}</span></p>
  <p class="verdict">${call(judged.call, judged.call_words)}<span class="soft">${judged.call_reason}</span></p>
  <div class="remedy">
    <p>${judged.pattern} ${judged.remedy ? html`<b>${judged.remedy.text}</b> ${judged.remedy.left_text}` : judged.no_remedy}</p>
    ${judged.settle ? html`<p><b>What would settle it:</b> ${judged.settle}</p>` : nothing}
    ${judged.causes.map((one) => html`<p class="small">${one}</p>`)}
  </div>
  ${notices(judged.notices)}
</section>`;

/** @param {Hand} hand @param {MeterResult} judged */
const levels = (hand, judged) => html`
  <h2>${judged.levels.length === 1 ? "One level" : `${judged.levels.length} levels`}</h2>
  <ul class="levels">${judged.levels.map((level, i) => levelRow(level, hand.view.meter_bars[i], { n: i + 1, href: to("level", { level: String(i + 1) }) }))}</ul>
  ${hand.view.meter_plot ? html`<figure>${drawing(hand.view.meter_plot)}<figcaption>Each dot is a level with its doubt. Pale band: the tolerance. Grey: the doubt of the fit.</figcaption></figure>` : nothing}`;

/** @param {Hand} hand @param {number} last Index of the run. */
function settings(hand, last) {
  const run = hand.inspection.meter.runs[last];
  const said = hand.view.references[last] ?? [];
  if (!run || said.length === 0) {
    return nothing;
  }
  const path = (/** @type {string} */ name) => ["meter", "runs", last, name];
  // The numbers were taken from this very list, so the same one is found by being equal.
  const tolerance = lists.tolerances.find((one) => one.stops === run.tolerance_stops);
  return html`
    <h2>${said.length === 1 ? "Reference" : "References"}</h2>
    ${said.map((one, i) => html`<div class="split reference"><p><b>${one.name}</b><br /><span class="soft">${one.doubts}</span></p>${i === 0 ? html`<a class="tap" href=${to("reference")}>change<span class="unseen"> the reference</span></a>` : nothing}</div>
      ${one.constants ? html`<p class="small">${one.constants}</p>` : nothing}
      <p class="small">To halve its doubt: ${one.better}.</p>`)}
    ${last > 0 ? html`<p class="small">${last === 1 ? "An earlier run" : `${last} earlier runs`} against other references ${last === 1 ? "stays" : "stay"} in the file; this one is judged.</p>` : nothing}
    <h2>Judged by</h2>
    ${choice({ legend: "Tolerance", name: "tolerance", layout: "wide", value: tolerance?.words ?? "", options: lists.tolerances.map(({ words, help }) => ({ key: words, words, help })),
      pick: (words) => hand.change(path("tolerance_stops"), lists.tolerances.find((one) => one.words === words)?.stops) })}
    ${refusal(hand.wrongAt(path("tolerance_stops")))}
    ${stepper({ label: "Film in hand", id: "film", places: speeds(lists.film_speeds), value: run.film_speed, set: (mark) => hand.change(path("film_speed"), mark) })}
    ${refusal(hand.wrongAt(path("film_speed")))}`;
}

/** @param {Hand} hand */
function draw(hand) {
  const { camera, meter, result } = hand.inspection;
  const last = meter.runs.length - 1;
  const run = meter.runs[last];
  const judged = run && run.levels.length > 0 ? (result?.meter ?? null) : null;
  const first = !run ? html`<a class="button main" href=${to("reference")}>Choose the reference</a>` : html`<a class="button main" href=${to("level")}>${judged ? "Add a level" : "Enter the first level"}</a>`;
  show({
    title: "Meter",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(hand.wrong)}${happened(hand.news)}
      ${camera.meter_shows === "none"
        ? html`<section class="card"><p>This camera is entered as one without a meter.</p><p><a class="tap" href=${to("camera")}>Change that</a></p></section>`
        : !run
          ? html`<section class="card"><p><b>What is the meter held against?</b> The reference comes first, because its own doubt is part of every result.</p>
              <p class="soft">Then five levels, from dim to bright: at each, what the light is and what the camera says.</p></section>`
          : judged
            ? answer(judged)
            : html`<section class="card"><p><b>No level yet.</b> Five levels from dim to bright tell the most; one is enough to begin.</p></section>`}
      <div class="columns"><div>${judged ? later(() => levels(hand, judged)) : nothing}</div><div>${later(() => settings(hand, last))}</div></div>
      ${later(() => html`<p><a class="tap" href=${to("consistency")}>Check the dials against one another, which needs no reference</a></p>`)}`,
    foot: camera.meter_shows === "none"
      ? html`<a class="button main" href=${to("inspection")}>Back to the camera</a>`
      : html`<button type="button" @click=${() => hand.undo()}>Undo</button>${first}`,
  });
}

withCamera(draw, async () => {
  lists = await (await bench()).lists();
});
