/**
 * What the meter is held against, and how well that is known.
 * Not here: the levels (`level.js`).
 *
 * @import { Lists, Reference, ReferenceChoice, Run } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import * as settings from "../store/settings.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { to } from "../view/links.js";
import { caution, happened, refusal } from "../view/notice.js";
import { DOUBTS } from "../view/scales.js";
import { show } from "../view/shell.js";
import { stepper } from "../view/stepper.js";
import { withCamera } from "./hand.js";

/** @type {Lists} */
let lists;
/** Where the run that is left behind had levels. */
let begunAnew = false;

/** @param {ReferenceChoice} kind @returns {Reference} With the doubts that are usual for it. */
const usual = (kind) => ({ kind: kind.key, each_doubt_stops: kind.each_doubt_stops, shared_doubt_stops: kind.shared_doubt_stops, surface: kind.ways.includes("illuminance") ? "card_18" : "", note: "" });

/** @param {Hand} hand @param {string} key */
async function pick(hand, key) {
  const kind = lists.references.find((one) => one.key === key);
  const last = hand.inspection.meter.runs.at(-1);
  if (!kind || kind.key === last?.reference.kind) {
    return;
  }
  const started = new Date().toISOString();
  const kept = await hand.apply((draft) => {
    const run = draft.meter.runs.at(-1);
    if (run && run.levels.length === 0) {
      run.reference = usual(kind);
    } else {
      draft.meter.runs.push({ started, reference: usual(kind), more_references: [], tolerance_stops: run?.tolerance_stops ?? 0.5, film_speed: run?.film_speed ?? "100", levels: [] });
    }
  }, "reference");
  if (kept) {
    begunAnew = (last?.levels.length ?? 0) > 0;
    settings.set("lastReference", key).catch(() => {});
    hand.draw();
  }
}

/** @param {Hand} hand @param {Run} run @param {number} last @param {ReferenceChoice} kind */
function details(hand, run, last, kind) {
  const path = (/** @type {string} */ name) => ["meter", "runs", last, "reference", name];
  /** @param {string} label @param {"each_doubt_stops" | "shared_doubt_stops"} name @param {string} words */
  const doubt = (label, name, words) => html`
    ${stepper({ label, id: name, places: DOUBTS, value: String(run.reference[name]), set: (mark) => hand.change(path(name), Number(mark)) })}
    <p class="help">${words}</p>${refusal(hand.wrongAt(path(name)))}`;
  return html`
    <h2>How to use it</h2>
    <p>${kind.help}</p>${caution(kind.caution)}
    ${kind.constants ? html`<p class="small">${kind.constants}</p>` : nothing}
    ${kind.ways.includes("illuminance")
      ? choice({ legend: "What the camera's meter looks at", name: "surface", layout: "wide", value: run.reference.surface || "incident", options: lists.surfaces, pick: (key) => hand.change(path("surface"), key) })
      : nothing}
    <h2>How well it is known</h2>
    <p class="small">As standard uncertainties; usual here because of ${kind.why}. To halve it: ${kind.better}.</p>
    ${doubt("New at every level", "each_doubt_stops", "What differs from reading to reading; it averages out.")}
    ${doubt("Shared by all levels", "shared_doubt_stops", "What is the same in every reading, such as its calibration; it does not average out.")}
    ${field({ label: "Which one, and when it was checked", id: "reference-note", value: hand.textAt(path("note"), run.reference.note), wrong: hand.wrongAt(path("note")), type: (text) => hand.change(path("note"), text) })}`;
}

/** @param {Hand} hand */
function draw(hand) {
  const last = hand.inspection.meter.runs.length - 1;
  const run = hand.inspection.meter.runs[last];
  const kind = lists.references.find((one) => one.key === run?.reference.kind);
  show({
    title: "Reference",
    about: hand.view.title,
    up: [to("meter"), "Meter"],
    main: html`${refusal(hand.wrong)}${happened(hand.news || (begunAnew ? "A new run has begun. The run before it stays in the file." : ""))}
      ${run && run.levels.length > 0 ? html`<p class="notice">This run has levels. Another reference begins a new run; this one stays in the file.</p>` : nothing}
      <div class="columns">
        <div>${run && run.levels.length > 0 ? nothing : html`<p class="soft">Choose the best one at hand: the smaller its shared doubt, the more the result is worth.</p>`}
          ${choice({ legend: "What is the meter held against?", name: "kind", layout: "wide", value: kind?.key ?? "", options: lists.references.map(({ key, words, why, better, each_doubt_stops, shared_doubt_stops }) => ({ key, words, help: `doubt ${each_doubt_stops} stop at each level, ${shared_doubt_stops} shared by all: ${why}. To halve it: ${better}` })), pick: (key) => pick(hand, key) })}</div>
        <div>${run && kind ? details(hand, run, last, kind) : nothing}</div>
      </div>`,
    foot: html`<button type="button" @click=${() => hand.undo()}>Undo</button>${run ? html`<a class="button main" href=${to("level")}>Enter levels</a>` : html`<a class="button main" href=${to("meter")}>Back to the meter</a>`}`,
  });
}

withCamera(draw, async () => {
  lists = await (await bench()).lists();
});
