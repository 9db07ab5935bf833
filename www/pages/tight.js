/**
 * Without film: a lamp inside, the dark room, two minutes for the eye, and where light comes out; how long the loaded camera may lie.
 * Not here: the seals by finger (`seals.js`); the dose (`dose.js`).
 *
 * @import { Lists } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { back } from "../view/back.js";
import { choice } from "../view/choice.js";
import { to } from "../view/links.js";
import { happened, notices, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { dose } from "./dose.js";
import { glow } from "./glow.js";
import { withCamera } from "./hand.js";
import { choose, enter, enteredAt, walk } from "./place.js";

/** What the eye wants to get used to the dark [ms]. */
const DARK = 120_000;
/** @type {Lists} */
let lists;
/** When the eye is ready, by this page's clock; 0 before it was asked for. */
let ready = 0;
/** @type {ReturnType<typeof setInterval> | undefined} */
let ticking;

/** @param {Hand} hand */
function wait(hand) {
  ready = performance.now() + DARK;
  clearInterval(ticking);
  ticking = setInterval(() => {
    if (performance.now() >= ready) {
      clearInterval(ticking);
    }
    if (!document.hidden) {
      hand.draw();
    }
  }, 1000);
  hand.draw();
}

/** @param {Hand} hand */
function timer(hand) {
  const left = Math.max(0, Math.ceil((ready - performance.now()) / 1000));
  if (ready === 0) {
    return html`<p><button type="button" @click=${() => wait(hand)}>It is dark: two minutes from now</button></p>`;
  }
  return left > 0
    ? html`<p><b>${Math.floor(left / 60)}:${String(left % 60).padStart(2, "0")}</b> until your eyes are used to the dark. Turn the phone over.</p>`
    : html`<p role="status"><b>Look now.</b> Go round the camera slowly, from every side. <button type="button" @click=${() => wait(hand)}>Again</button></p>`;
}

/** @param {Hand} hand */
function draw(hand) {
  const view = hand.view.light_tight;
  const places = view.places.filter((one) => one.shows_light);
  const { place, next } = walk(places);
  const lit = view.places.filter((one) => one.lamp === "light");
  show({
    title: "Without film",
    about: hand.view.title,
    up: [to("seals"), "Seals"],
    main: html`${refusal(hand.wrong)}${happened(hand.news)}
      <ol>
        <li>A small cool lamp into the film chamber; with a bellows, behind it; for the shutter, behind the closed curtains. It must not touch curtains or bellows.</li>
        <li>Shut the door. Lens cap on.</li>
        <li>Dark room, phone dimmed, two minutes.</li>
      </ol>
      ${timer(hand)}
      ${glow(hand.draw)}
      ${back({ made: view.drawing, places, value: place?.key ?? "", pick: (key) => choose(hand, key) })}
      ${place
        ? html`<section class="card" aria-labelledby="in-hand">
            <h2 id="in-hand">${place.number} · ${place.name}</h2>
            ${choice({ legend: "With the lamp on, this place …", name: `lamp-${place.key}`, layout: "even", value: enteredAt(hand, place.key, "lamp"), options: view.lamps, pick: (key) => enter(hand, place.key, "lamp", key) })}
            <p aria-live="polite">${place.risk}</p>
          </section>`
        : nothing}
      ${lit.length > 0 ? html`<h2>Light comes out</h2><ul class="rows">${lit.map((one) => html`<li>${one.number} ${one.name}</li>`)}</ul>` : nothing}
      ${notices(view.notices)}
      <p class="small">The eye finds what film finds in minutes; what stays dark may still fog a film that lies for days. (Common practice.)</p>
      ${dose(lists, hand.draw)}
      <p><a class="button" href=${to("roll")}>Test roll: ${hand.view.test_roll.headline}</a></p>
      <div class="actions"><button type="button" @click=${() => hand.undo()}>Undo the last change</button></div>`,
    foot: html`<a class="button" href=${to("seals")}>Seals</a>
      ${next
        ? html`<button type="button" class="main" @click=${() => choose(hand, next.key)}>Next: ${next.name}</button>`
        : html`<a class="button main" href=${to("inspection")}>Outcome</a>`}`,
  });
}

withCamera(draw, async (hand) => {
  lists = await (await bench()).lists();
  // Nobody sees a clock out of sight; it is right again when the page is seen.
  document.addEventListener("visibilitychange", () => ready > 0 && !document.hidden && hand.draw());
});
