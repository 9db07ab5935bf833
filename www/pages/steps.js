/**
 * The round as a whole: every step with how far it is and how long the rest takes; the order can be changed, steps left out.
 * Not here: the steps' own pages; which order is usual, which the bench says.
 *
 * @import { StepView } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 * @import { Preference } from "./itinerary.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";
import { inOrder, itinerary, leftOf, nextOf, pageOf, prefer, preferred } from "./itinerary.js";

/** @type {Preference} */
let preference;
let arranging = false;

/** @param {Hand} hand @param {Preference} now */
async function put(hand, now) {
  preference = now;
  hand.draw();
  await prefer(now).catch((error) => { hand.wrong = String(error); hand.draw(); });
}

/** @param {Hand} hand @param {StepView} step @param {number} by Up or down. */
async function move(hand, step, by) {
  const keys = inOrder(hand.view, preference).map((one) => one.key);
  const at = keys.indexOf(step.key);
  keys.splice(at, 1);
  keys.splice(at + by, 0, step.key);
  await put(hand, { ...preference, order: keys });
  document.getElementById(`${by < 0 ? "up" : "down"}-${step.key}`)?.focus();
}

/** @param {Hand} hand @param {StepView} step */
function leave(hand, step) {
  const { without } = preference;
  return put(hand, { ...preference, without: without.includes(step.key) ? without.filter((key) => key !== step.key) : [...without, step.key] });
}

/** @param {Hand} hand */
function arrange(hand) {
  const steps = inOrder(hand.view, preference);
  const button = (/** @type {StepView} */ step, /** @type {number} */ by, /** @type {string} */ words, /** @type {boolean} */ off) =>
    html`<button type="button" id="${words}-${step.key}" ?disabled=${off} @click=${() => move(hand, step, by)} aria-label="${step.name}: ${words}">${by < 0 ? "Up" : "Down"}</button>`;
  return html`<ul class="rows">${repeat(steps, (step) => step.key, (step, i) => html`<li class="split arranged">
      <label class="tick"><input type="checkbox" .checked=${!preference.without.includes(step.key)} @change=${() => leave(hand, step)} /><span>${step.name}</span></label>
      <span class="pair">${button(step, -1, "up", i === 0)}${button(step, 1, "down", i === steps.length - 1)}</span></li>`)}</ul>
    <p class="help">Steps without a tick are left out of the round for every camera. What is not looked at stays “not checked”, and the sheet says so.</p>
    <div class="actions"><button type="button" @click=${() => put(hand, { order: [], without: [] })}>The usual order</button><button type="button" @click=${() => { arranging = false; hand.draw(); }}>That is it</button></div>`;
}

/** @param {Hand} hand @param {StepView[]} steps */
function list(hand, steps) {
  const out = hand.view.round.length - steps.length;
  return html`<ol class="rows steps">${repeat(steps, (step) => step.key, (step) => html`<li class="leads split">
      <a href=${pageOf(step.key)}>${step.name}</a><span>${step.done ? html`<b>done</b> · ` : nothing}${step.state}</span></li>`)}</ol>
    ${out > 0 ? html`<p class="small">${out === 1 ? "One step is" : `${out} steps are`} left out.</p>` : nothing}
    <div class="actions"><button type="button" @click=${() => { arranging = true; hand.draw(); }}>Change the order</button></div>`;
}

/** @param {Hand} hand */
function draw(hand) {
  const steps = itinerary(hand.view, preference);
  const next = nextOf(steps);
  const done = steps.filter((step) => step.done).length;
  show({
    title: "The round",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(hand.wrong)}${happened(hand.news)}
      <section class="card"><p class="headline"><b class="big">${done} of ${steps.length}</b><span>steps done</span></p>
        <p>${leftOf(steps)}. Leave at any point; it goes on from here.</p>
        <progress max=${steps.length} value=${done} aria-label="Steps done"></progress></section>
      ${arranging ? arrange(hand) : list(hand, steps)}`,
    foot: next
      ? html`<a class="button" href=${to("inspection")}>Leave it</a><a class="button main" href=${pageOf(next.key)}><span>${done === 0 ? "Begin" : "Go on"}: ${next.name}</span></a>`
      : html`<a class="button" href=${to("sheet")}>Sheet</a><a class="button main" href=${to("inspection")}>Outcome</a>`,
  });
}

withCamera(draw, async () => {
  preference = await preferred();
});
