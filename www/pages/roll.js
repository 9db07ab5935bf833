/**
 * The test roll: the list at the camera, the wait for the film, and what its strips tell.
 * Not here: the parts (`roll-list.js`, `roll-answers.js`); photos of strips (`strip.js`).
 *
 * @import { Hand } from "./hand.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";
import { answers } from "./roll-answers.js";
import { exposed, list } from "./roll-list.js";

/** @param {Hand} hand */
const again = (hand) => hand.apply(({ test_roll }) => {
  test_roll.exposed = "";
  test_roll.steps = [];
}, "another test roll");

/** @param {Hand} hand */
function lead(hand) {
  const { state, headline, left_words, steps } = hand.view.test_roll;
  const at = state === "not_begun" || state === "at_the_camera";
  return steps.length === 0 ? nothing : html`<p class="lead" aria-live="polite"><b>${at ? "At the camera" : headline.charAt(0).toUpperCase() + headline.slice(1)}</b>${left_words ? html`, ${left_words}` : nothing}.</p>`;
}

/** @param {Hand} hand */
function stage(hand) {
  const { state, steps } = hand.view.test_roll;
  if (steps.length === 0) {
    return html`<p>Sheet film has no roll to run through: a sheet in its holder, the slide drawn in the light for two minutes with the lens shut, shows leaks of bellows and holder. The lamp inside shows them without film.</p>`;
  }
  const at = state === "not_begun" || state === "at_the_camera";
  return html`${at
      ? html`<p>Three blank frames and a wall: film sees what no eye does. The list takes half an hour; then the film goes to be developed, and this page waits.</p>${list(hand)}`
      : nothing}
    ${state === "waiting"
      ? html`<section class="card"><h2>When the film is back</h2>
          <ol>
            <li>A light table larger than the strip, or a white screen with tracing paper on it; mask what shines beside the strip.</li>
            <li>Strip flat, phone parallel above it, HDR off. Darker than the phone wants: the holes grey, not white.</li>
            <li>One photo for each blank frame, the whole width of the film on it, and a little of both neighbours.</li>
          </ol></section>`
      : nothing}
    ${at ? nothing : html`<details><summary>The list at the camera</summary>${list(hand)}<div class="actions"><button type="button" @click=${() => again(hand)}>Begin another roll</button></div></details>`}`;
}

/** @param {Hand} hand */
function draw(hand) {
  const { state, steps } = hand.view.test_roll;
  const at = state === "not_begun" || state === "at_the_camera";
  show({
    title: "Test roll",
    about: hand.view.title,
    up: [to("seals"), "Seals"],
    main: html`${refusal(hand.wrong)}${happened(hand.news)}
      ${lead(hand)}${answers(hand)}${stage(hand)}
      <p class="small">Even fog over the whole film, from age or X-rays, cannot be told from a denser base. (Common practice.)</p>
      <div class="actions"><button type="button" @click=${() => hand.undo()}>Undo the last change</button>${at && steps.length > 0 ? html`<a class="button" href=${to("strip")}>The film is here already</a>` : nothing}</div>`,
    foot: steps.length === 0
      ? html`<a class="button main" href=${to("tight")}>Lamp inside</a>`
      : at
        ? html`<a class="button" href=${to("tight")}>Without film</a><button type="button" class="main" @click=${() => exposed(hand)}>The roll is exposed</button>`
        : html`<a class="button" href=${to("inspection")}>Outcome</a><a class="button main" href=${to("strip")}>Photo of a strip</a>`,
  });
}

withCamera(draw);
