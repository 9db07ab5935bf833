/**
 * Two inspections of one camera side by side: what changed, by how much, and whether that is more than the doubt.
 * Not here: what counts as a change, which the bench says; which inspections belong together (`store/same.js`).
 *
 * @import { ChangeView, ComparedSide, ComparisonView } from "../bench/shapes.js"
 * @import { Summary } from "../store/database.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { get } from "../store/inspections.js";
import { others } from "../store/same.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { call } from "../view/call.js";
import { asked, evidence, key, to } from "../view/links.js";
import { happened, notices, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { inspectAgain } from "./again.js";
import { withCamera } from "./hand.js";

const theBench = bench("paper");
/** @type {Summary[]} */
let found = [];
/** @type {ComparisonView | null} */
let laid = null;
/** @type {unknown} */
let wrong = "";

/** @param {string} name @param {ComparedSide} side */
const head = (name, side) => html`<dt>${name}</dt><dd>${side.day} ${call(side.outcome, side.outcome_words)}</dd>`;

/** @param {ChangeView} change */
const row = (change) => html`<li class=${change.verdict}>
  <div class="split"><a href=${evidence(change)}><b>${change.name}</b></a><span class="small">${change.verdict_words}</span></div>
  <div><span class="then">${change.before || "not known"}</span> → <span>${change.after || "not known"}</span></div>
  ${change.difference === null ? nothing : html`<p class="small">${change.sentence.slice(change.sentence.lastIndexOf("; ") + 2)}</p>`}
</li>`;

/** @param {string} title @param {readonly ChangeView[]} changes What changed comes first. */
const list = (title, changes) =>
  changes.length === 0 ? nothing : html`<h2>${title}</h2><ul class="pairs">${[...changes.filter((one) => one.verdict === "changed"), ...changes.filter((one) => one.verdict !== "changed")].map(row)}</ul>`;

/** @param {ComparisonView} both */
const side = (both) => html`<section class="card"><p><b>${both.headline}</b></p><dl>${head("Before", both.before)}${head("After", both.after)}</dl></section>
  ${list("Measured", both.measured)}${list("Found another than before", both.findings)}
  <p class="small">${both.same_words}</p>${notices(both.notices)}`;

const choose = () => html`<h2>${found.length === 1 ? "One other inspection" : `${found.length} other inspections`}</h2>
  <ul class="rows">${found.map((one) => html`<li class="leads split"><a href=${to("compare", { with: one.key })}>${one.updated.slice(0, 10)}</a><span>${one.outcome_words}${one.key === asked.get("with") ? ", shown" : ""}</span></li>`)}</ul>`;

/** @param {Hand} hand */
function draw(hand) {
  show({
    title: "Before and after",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(wrong || hand.wrong)}${happened(hand.news)}
      ${laid ? side(laid) : nothing}
      ${found.length > 0
        ? laid && found.length === 1 ? nothing : choose()
        : html`<section class="card"><p class="headline"><b class="big">No other inspection</b></p><p>${hand.inspection.camera.serial.trim()
            ? "No other inspection of this serial number is on this phone. Take one in from its file, or inspect the camera again after its service."
            : "Enter the serial number: inspections of the same camera are found by it."}</p></section>`}`,
    foot: html`${hand.inspection.camera.serial.trim() ? nothing : html`<a class="button" href=${to("camera")}>Serial number</a>`}<button type="button" class="main" @click=${() => inspectAgain(hand)}>Inspect it again</button>`,
  });
}

withCamera(draw, async (hand) => {
  try {
    found = await others(key, hand.inspection.camera);
    const chosen = asked.get("with") ?? found[0]?.key;
    const other = chosen ? await get(chosen) : undefined;
    laid = other ? await (await theBench).compare(hand.inspection, other.inspection) : null;
  } catch (error) {
    wrong = error;
  }
});
