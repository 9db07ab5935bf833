/** The meter run, judged: the answer first, its evidence below. Not here: entering levels (level.js). */
import { html } from "../vendor/lit-html/lit-html.js";
import { bench } from "../bench/client.js";
import { drawing } from "../plot/drawing.js";
import { alertBox, show, to } from "../view/frame.js";
import { call, choose, levelRow } from "../view/bits.js";
import { dial } from "../view/dial.js";
import { atDesk } from "./desk.js";

const lists = await (await bench()).lists();

atDesk((desk, wrong) => {
  const { meter, result } = desk.inspection;
  const at = meter.runs.length - 1;
  const run = meter.runs[at];
  const judged = run && run.levels.length > 0 ? result?.meter : null;
  const said = desk.view.references[at];
  const tolerance = lists.tolerances.find((one) => run && Math.abs(one.stops - run.tolerance_stops) < 1e-9);
  show({
    title: "Meter",
    back: [to("inspection"), desk.view.title],
    main: html`${alertBox(wrong)}
      ${!run ? html`<div class="card"><p>What is the meter held against? Choose the reference first; its doubt is part of every result.</p></div>` : ""}
      ${run && !judged ? html`<div class="card"><p>No level yet. Five levels from dim to bright tell the most.</p></div>` : ""}
      ${judged ? html`<section class="card" aria-live="polite"><p class="big">${judged.headline}</p><p class="soft">${judged.headline_doubt}</p>
        ${call(judged.call, judged.call_words)}<span class="soft">${judged.call_reason}</span>
        <p>${judged.pattern} ${judged.remedy ? html`<b>${judged.remedy.text}</b> ${judged.remedy.left_text}` : judged.no_remedy}</p>
        ${judged.settle ? html`<p><b>${judged.settle}</b></p>` : ""}
        ${judged.causes.map((one) => html`<p class="small">${one}</p>`)}${judged.notices.map((one) => html`<p class="caution">${one}</p>`)}</section>
        <h2>Levels</h2>${judged.levels.map((level, i) => levelRow(level, desk.view.meter_bars[i]))}
        ${desk.view.meter_plot ? html`<figure>${drawing(desk.view.meter_plot)}</figure>` : ""}` : ""}
      ${run && said ? html`<h2>Reference</h2><div class="row"><div><b>${said.name}</b><br /><span class="soft">${said.doubts}</span></div><a class="tap" href=${to("reference")}>change</a></div>
        ${said.constants ? html`<p class="small">${said.constants}</p>` : ""}
        ${choose({ legend: "Tolerance", name: "tolerance", value: tolerance?.words ?? "", options: lists.tolerances.map((one) => ({ key: one.words, words: one.words, help: one.help })), wide: true, pick: (words) =>
          desk.change(["meter", "runs", at, "tolerance_stops"], lists.tolerances.find((one) => one.words === words)?.stops) })}
        ${dial({ label: "Film in hand, dial set to", id: "film", places: lists.film_speeds.map((mark) => ({ mark, label: `ISO ${mark}` })), value: run.film_speed, set: (mark) => desk.change(["meter", "runs", at, "film_speed"], mark) })}` : ""}
      <p><a class="tap" href=${to("consistency")}>Check the dials against one another, without a reference</a></p>`,
    foot: html`<button @click=${() => desk.undo()}>Undo</button>${run ? html`<a class="button main" href=${to("level")}>Add a level</a>` : html`<a class="button main" href=${to("reference")}>Choose the reference</a>`}`,
  });
});
