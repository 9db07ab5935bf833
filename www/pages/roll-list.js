/**
 * The list at the camera: steps to tick off, a timer where something is counted, and the moment at which the roll is exposed.
 * Not here: the steps, which the bench says; what the strips tell (`roll-answers.js`).
 *
 * @import { RollStepView } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { keepAwake } from "../capture/awake.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { live } from "../vendor/lit-html/directives/live.js";

/** The step that is counted, until when by this page's clock, and what lets the screen go dark. */
let counting = "";
let until = 0;
/** @type {() => void} */
let release = () => {};
/** @type {ReturnType<typeof setInterval> | undefined} */
let ticking;

function stop() {
  clearInterval(ticking);
  release();
  release = () => {};
}

/** @param {Hand} hand @param {RollStepView} step */
async function count(hand, step) {
  stop();
  [counting, until] = [step.key, performance.now() + step.timer_s * 1000];
  ticking = setInterval(() => {
    if (performance.now() >= until) {
      stop();
      navigator.vibrate?.([200, 100, 200]);
    }
    hand.draw();
  }, 250);
  hand.draw();
  release = await keepAwake();
}

/** @param {Hand} hand @param {RollStepView} step */
function timer(hand, step) {
  if (step.timer_s === 0 || step.done) {
    return nothing;
  }
  const left = counting === step.key ? Math.max(0, Math.ceil((until - performance.now()) / 1000)) : -1;
  const clock = (/** @type {number} */ seconds) => `${Math.floor(seconds / 60)}:${String(seconds % 60).padStart(2, "0")}`;
  return html`<p class="count">${left > 0 ? html`<b role="timer">${clock(left)}</b>` : nothing}
    ${left === 0 ? html`<b role="status">Done.</b>` : nothing}
    <button type="button" @click=${() => count(hand, step)}>${left >= 0 ? "Again" : "Start"} ${clock(step.timer_s)}<span class="unseen">: ${step.name}</span></button></p>`;
}

/** @param {Hand} hand @param {string} key Ticks a step off, or takes that back. */
const tick = (hand, key) => hand.apply(({ test_roll }) => {
  const at = test_roll.steps.findIndex((one) => one.step === key);
  if (at < 0) {
    test_roll.steps.push({ step: key, at: new Date().toISOString() });
  } else {
    test_roll.steps.splice(at, 1);
  }
}, "step of the test roll");

/** @param {Hand} hand The roll is out of the camera. */
export const exposed = (hand) => hand.apply(({ test_roll }) => {
  test_roll.exposed = new Date().toISOString();
}, "test roll exposed");

/** @param {Hand} hand @param {string} key @returns {boolean} As it was entered, also where it is still on its way. */
const ticked = (hand, key) => hand.inspection.test_roll.steps.some((one) => one.step === key);

/** @param {Hand} hand */
export function list(hand) {
  const { steps } = hand.view.test_roll;
  return html`<ol class="steps-list">${steps.map((step) => html`<li class=${ticked(hand, step.key) ? "done" : ""}>
    <label class="tick"><input type="checkbox" .checked=${live(ticked(hand, step.key))} @change=${() => tick(hand, step.key)} />
      <span><b>${step.name}</b> <small>${[step.frame_words, step.minutes_words].filter((one) => one).join(" · ")}</small></span></label>
    <p>${step.text}</p>
    ${timer(hand, step)}
  </li>`)}</ol>`;
}
