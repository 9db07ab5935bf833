/**
 * This phone's screen as a lamp: full white read once by a trusted meter, then steps of exactly one stop, each shown full screen while
 * the camera is read, and taken into the level.
 * Not here: what each step is worth (the bench); painting it (`capture/lamp.js`).
 *
 * @import { LampStep, LampView, Lists } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { canSpeak } from "../capture/cue.js";
import { Lamp } from "../capture/lamp.js";
import * as settings from "../store/settings.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { asked, to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";
import { useLight } from "./use-light.js";

const NAME = "lamp";
/** Hands free, the next step comes after so long. */
const EVERY = [{ key: "0", words: "by tap" }, { key: "10", words: "every 10 s" }, { key: "20", words: "every 20 s" }];
const theBench = await bench();
/** @type {Lists} */
let lists;
/** What is known of this screen: full white as read, by which meter, on which day. */
let known = { white: "", doubt: "0.1", against: "", at: "", kind: "unknown", every: "0", spoken: false };
/** @type {LampView | null} */
let view = null;
let chosen = asked.get("step") ?? "1";
/** @type {Lamp | null} */
let lamp = null;
/** @type {unknown} */
let wrong = "";
let turn = 0;

/** @param {Hand} hand */
async function reckon(hand) {
  const mine = ++turn;
  try {
    // The whole screen, which is what it is shown on.
    const [width, height] = [screen.width, screen.height].map((side) => Math.floor(side * devicePixelRatio));
    const found = await theBench.lampView(known.white, known.doubt, known.kind, width ?? 0, height ?? 0);
    if (mine === turn) {
      [view, wrong] = [found, ""];
    }
  } catch (error) {
    if (mine === turn) {
      [view, wrong] = [null, error];
    }
  }
  hand.draw();
}

/** @param {Hand} hand @param {Partial<typeof known>} values */
function put(hand, values) {
  known = { ...known, ...values, at: "white" in values ? new Date().toISOString() : known.at };
  settings.set(NAME, known).catch(() => {});
  return reckon(hand);
}

/** @param {Hand} hand @param {LampView} seen */
async function light(hand, seen) {
  lamp = new Lamp(seen, chosen, {
    every: Number(known.every), spoken: known.spoken,
    step: (by) => {
      const at = seen.steps.findIndex((one) => one.key === chosen) + by;
      const next = seen.steps[Math.min(Math.max(at, 0), seen.steps.length - 1)];
      chosen = next?.key ?? chosen;
      return chosen;
    },
    closed: () => { lamp = null; hand.draw(); },
  });
  await lamp.open();
  hand.draw();
}

/** White alone, to be filmed or photographed through a shutter or a lens. @param {Hand} hand @param {LampView} seen */
async function white(hand, seen) {
  lamp = new Lamp(seen, "1", { step: () => "1", closed: () => { lamp = null; hand.draw(); } });
  await lamp.open();
  hand.draw();
}

/** @param {Hand} hand @param {LampView} seen @param {LampStep} step */
function use(hand, seen, step) {
  const note = seen.calibrated ? `${known.against || "a trusted meter"}, ${known.at.slice(0, 10)}` : "full white read by nobody";
  return useLight(hand, { reference: { kind: "screen", each_doubt_stops: 0.05, shared_doubt_stops: seen.shared_doubt_stops, surface: "", note }, way: "ev", typed: step.typed, own_doubt_stops: step.each_doubt_stops });
}

const guide = html`<details><summary>How to set it up</summary><ul>
  <li>Brightness by hand to a middle value, and there for good; automatic brightness, night colours and true-tone off; the screen clean and warm.</li>
  <li>The camera's lens a hand's breadth from the screen, set to infinity, so that only the screen fills what the meter sees; the room dark.</li>
  <li>Full white once with a trusted meter, laid on the same place. Without that the steps still tell slope and consistency, but no offset.</li>
  <li>A screen's white is made of three narrow colours: a cell that sees colours otherwise than the trusted meter reads apart by an amount that no step tells. Hold it against daylight once.</li>
  <li>A meter that reads in a flash may see the screen flicker: repeat a reading that jumps.</li>
</ul></details>`;

/** @param {Hand} hand @param {LampView} seen @param {LampStep} step */
const answer = (hand, seen, step) => html`<section class="card" aria-live="polite" aria-label="The light of this step">
    <p class="headline"><b class="big">${step.ev_words}</b> <span class="soft">${step.words}</span></p>
    <p class="small">${seen.white_words}.</p>
  </section>
  ${seen.calibrated ? nothing : html`<p class="notice">Full white was read by nobody, so it may be a stop and more off: this run will tell whether the meter is even over the range, not whether it is right.</p>`}
  ${choice({ legend: "Step", name: "step", layout: "wide", value: step.key, options: seen.steps.map(({ key, words, ev_words }) => ({ key, words: ev_words, help: words })), pick: (key) => { chosen = key; hand.draw(); } })}
  ${choice({ legend: "Through the steps", name: "every", layout: "words", value: known.every, options: EVERY, pick: (every) => put(hand, { every }) })}
  ${known.every !== "0" && canSpeak() ? html`<label class="tick"><input type="checkbox" .checked=${known.spoken} @change=${() => put(hand, { spoken: !known.spoken })} /><span>Say aloud when the next step comes</span></label>` : nothing}
  <div class="actions"><button type="button" @click=${() => light(hand, seen)}>Show this step</button><button type="button" @click=${() => white(hand, seen)}>Plain white field</button></div>`;

/** @param {Hand} hand */
function draw(hand) {
  const step = view?.steps.find((one) => one.key === chosen) ?? null;
  show({
    title: "Screen as a lamp",
    about: hand.view.title,
    up: [to("level"), "Level"],
    main: html`${refusal(wrong || hand.wrong)}${happened(hand.news)}
      ${guide}
      ${view && step ? answer(hand, view, step) : nothing}
      <details ?open=${known.white === ""}><summary>Full white: ${known.white ? `EV ${known.white}, ${known.at.slice(0, 10)}` : "read by nobody yet"}</summary>
        ${field({ label: "EV of full white by a trusted meter", id: "white", decimal: true, value: known.white, type: (white) => put(hand, { white }) })}
        ${field({ label: "Its standard uncertainty in stops", id: "white-doubt", decimal: true, value: known.doubt, type: (doubt) => put(hand, { doubt }) })}
        ${field({ label: "Which meter", id: "white-meter", value: known.against, type: (against) => put(hand, { against }) })}
        ${choice({ legend: "This screen", name: "screen-kind", layout: "wide", value: known.kind, options: lists.screens, pick: (kind) => put(hand, { kind }) })}
      </details>`,
    foot: html`<a class="button" href=${to("level")}>Back</a><button type="button" class="main" ?disabled=${!step} @click=${() => view && step && use(hand, view, step)}>Use this step</button>`,
  });
}

addEventListener("pagehide", () => lamp?.close());

withCamera(draw, async (hand) => {
  lists = await theBench.lists();
  known = { ...known, ...(await settings.get(NAME).catch(() => null)) };
  await reckon(hand);
});
