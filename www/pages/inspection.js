/**
 * One camera: its outcome with the reasons, what is open, its areas, and where to go on.
 * Not here: how the outcome comes about, which the bench works out.
 *
 * @import { Worked } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import * as bin from "../store/bin.js";
import { others } from "../store/same.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { call } from "../view/call.js";
import { field } from "../view/field.js";
import { later } from "../view/later.js";
import { at, evidence, key, to } from "../view/links.js";
import { caution, happened, refusal } from "../view/notice.js";
import { reasons, unchecked } from "../view/reasons.js";
import { show } from "../view/shell.js";
import { inspectAgain } from "./again.js";
import { withCamera } from "./hand.js";

/** @type {import("../store/database.js").Summary[]} Other inspections of this camera. */
let before = [];

/** @param {Hand} hand */
async function toTheBin(hand) {
  try {
    await bin.remove(key);
    location.href = at("index", { binned: key });
  } catch (error) {
    hand.wrong = error instanceof Error ? error.message : String(error);
    hand.draw();
  }
}

/** @param {Hand} hand */
function areas(hand) {
  const { camera, meter, result } = hand.inspection;
  return html`<h2>The round</h2>
    <ul class="rows">
      <li class="leads split"><a href=${to("steps")}>Step by step</a><span>${hand.view.round.filter((step) => step.done).length} of ${hand.view.round.length} done</span></li>
      ${hand.view.areas.map((area) => html`<li class="leads split"><a href=${to("round", { area: area.key })}>${area.name}</a>
        <span>${area.bad > 0 ? html`<b>${area.bad} bad</b> · ` : nothing}${area.progress}</span></li>`)}
    </ul>
    <h2>Measured</h2>
    <ul class="rows">
      <li class="leads split"><a href=${to("seals")}>Seals on the open back</a><span>${hand.view.light_tight.progress}</span></li>
      <li class="leads split"><a href=${to("tight")}>Without film: lamp inside</a><span>${hand.view.light_tight.lamp_words}</span></li>
      <li class="leads split"><a href=${to("roll")}>Test roll: light and evenness</a><span>${hand.view.test_roll.headline}</span></li>
      <li class="leads split"><a href=${to("shutter")}>Shutter: every marked time</a><span>${result?.shutter?.headline ?? "not yet"}</span></li>
      <li class="leads split"><a href=${to("openings")}>Openings: every marked f-number</a><span>${result?.aperture?.headline ?? "not yet"}</span></li>
      <li class="leads split"><a href=${to("glare")}>Light scattered by the lens</a><span>${result?.lens_measurements?.figures.at(-1) ?? "not yet"}</span></li>
      ${camera.meter_shows === "none" ? nothing : html`<li class="leads split"><a href=${to("meter")}>Meter against a reference</a><span>${result?.meter?.headline ?? "not yet"}</span></li>
      <li class="leads split"><a href=${to("consistency")}>Dials against one another</a><span>${meter.consistency.length > 0 ? `${meter.consistency.length} settings` : "not yet"}</span></li>`}
      <li class="leads split"><a href=${to("film")}>What film gets</a><span>${result?.film_error.some((row) => row.cells.length > 0) ? "told" : "not yet"}</span></li>
    </ul>`;
}

/** @param {Hand} hand @param {Worked} result */
function costs(hand, result) {
  const { costs, notes } = hand.inspection;
  /** @param {string} label @param {"value" | "mending" | "currency"} name */
  const one = (label, name) => field({ label, id: name, decimal: name !== "currency", value: hand.textAt(["costs", name], costs[name]), wrong: hand.wrongAt(["costs", name]),
    type: (typed) => hand.change(["costs", name], typed) });
  return html`<h2 id="costs" tabindex="-1">Costs and notes</h2>
    <div class="triple">${one("Value when sound", "value")}${one("Cost of mending", "mending")}${one("Currency", "currency")}</div>
    ${result.costs_sentence ? html`<p aria-live="polite"><b>${result.costs_sentence}</b></p>` : nothing}
    ${result.for_parts_offered || costs.for_parts
      ? html`<label class="tick"><input type="checkbox" .checked=${costs.for_parts} @change=${() => hand.change(["costs", "for_parts"], !costs.for_parts)} />
          <span>For parts: mending costs more than it is worth, and that is my decision.</span></label>`
      : nothing}
    ${field({ label: "Notes", id: "notes", long: true, value: hand.textAt(["notes"], notes), wrong: hand.wrongAt(["notes"]), type: (typed) => hand.change(["notes"], typed) })}`;
}

/** @param {Hand} hand The one thing to do next. */
function next(hand) {
  const area = hand.view.areas.find((one) => one.checked < one.total);
  const { camera, result } = hand.inspection;
  if (area) {
    const measured = result?.meter || camera.meter_shows === "none";
    const begun = hand.inspection.meter.runs.length > 0;
    return html`${measured ? html`<a class="button" href=${to("sheet")}>Sheet</a>` : html`<a class="button" href=${to(begun ? "meter" : "reference")}>Meter</a>`}<a class="button main" href=${to("round", { area: area.key })}><span>${area.checked === 0 && area === hand.view.areas[0] ? "Begin the round" : "Go on"}: ${area.name}</span></a>`;
  }
  if (!result?.shutter) {
    return html`<a class="button" href=${to("sheet")}>Sheet</a><a class="button main" href=${to("shutter")}>Check the shutter</a>`;
  }
  return result.meter || camera.meter_shows === "none"
    ? html`<a class="button" href=${to("file")}>Hand on</a><a class="button main" href=${to("sheet")}>Sheet</a>`
    : html`<a class="button" href=${to("sheet")}>Sheet</a><a class="button main" href=${to("meter")}>Check the meter</a>`;
}

/** @param {Hand} hand */
function draw(hand) {
  const { result } = hand.inspection;
  if (!result) {
    return;
  }
  // A remedy or a limit may be part of a reason already; nothing is said twice.
  const fresh = (/** @type {{ text: string }} */ one) => ![...result.reasons, ...result.limits].some((other) => other !== one && other.text.includes(one.text.slice(one.text.indexOf(": ") + 1)));
  // Where it is not yet known, what is open comes first.
  const open = result.outcome === "not_yet_known";
  const allowed = result.outcome === "ready_with_limits";
  show({
    title: hand.view.title,
    up: [at("index"), "Bench"],
    main: html`${refusal(hand.wrong)}${happened(hand.news)}
      <section class="card" aria-live="polite">
        <p class="big">${call(result.outcome, result.outcome_words)}</p>
        <p>${result.outcome_sentence}</p>
        ${result.settle ? html`<p class="settle">${result.settle}</p>` : nothing}
        ${result.next ? html`<p>The quickest that could change it: <a href=${evidence(result.next)}>${result.next.text}</a>.</p>` : nothing}
        <p class="small">${hand.view.kind_words} · ${hand.view.progress}</p>
      </section>
      ${open ? unchecked(result.unchecked) : nothing}
      ${reasons(allowed ? "To be allowed for" : "Why", result.reasons.filter((one) => !one.text.startsWith("Not checked")))}
      ${reasons("Limits", result.limits.filter(fresh))}
      ${reasons("What to do", result.remedies.filter(fresh))}
      ${result.cautions.map((one) => caution(one.text))}
      ${later(() => areas(hand))}
      ${open ? nothing : later(() => unchecked(result.unchecked))}
      ${later(() => reasons("Seen, and of no consequence", result.remarks.filter(fresh)))}
      ${later(() => costs(hand, result))}
      ${later(() => html`<h2>This camera</h2>
      <ul class="rows">
        <li class="leads"><a href=${to("camera")}>Who it is: names, marks, meter, battery</a></li>
        <li class="leads"><a href=${to("words")}>Words for the listing</a></li>
        <li class="leads"><a href=${to("sheet")}>Sheet, to print</a></li>
        <li class="leads split"><a href=${to("compare")}>Before and after</a><span>${before.length === 0 ? "no other inspection" : before.length === 1 ? "one other" : `${before.length} others`}</span></li>
        <li class="leads"><a href=${to("file")}>Hand it on as a file</a></li>
      </ul>
      <div class="actions"><button type="button" @click=${() => inspectAgain(hand)}>Inspect it again</button><button type="button" @click=${() => hand.undo()}>Undo the last change</button><button type="button" @click=${() => toTheBin(hand)}>Put it into the bin</button></div>`)}`,
    foot: next(hand),
  });
}

withCamera(draw, async (hand) => {
  // What is beside this camera is said when it is known; nothing waits for it.
  others(key, hand.inspection.camera).then((found) => {
    before = found;
    hand.draw();
  }, () => {});
});
