/**
 * The dials against one another: settings that the camera takes for equal in one steady light. It needs no reference.
 * Not here: what they tell, which the bench works out.
 *
 * @import { Equivalent, Lists } from "../bench/shapes.js"
 * @import { Dials } from "../view/setting.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { drawing } from "../plot/drawing.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { later } from "../view/later.js";
import { key, to } from "../view/links.js";
import { happened, notices, refusal } from "../view/notice.js";
import { speeds } from "../view/scales.js";
import { fit, leapOf, setting, settingDials } from "../view/setting.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";

const KEPT = `lampblack.setting.${key}`;

/** @type {Lists} */
let lists;
/** @type {Dials} */
let dials;
/** @type {Equivalent} What is being entered. */
let entry;

/** @param {Hand} hand @returns {Equivalent} Where the last one was; the tab remembers one that is not kept yet. */
function start({ inspection }) {
  const last = inspection.meter.consistency.at(-1);
  const fresh = { at: "", setting: fit(setting("100"), dials), resolution: inspection.camera.meter_between || "half" };
  try {
    return JSON.parse(sessionStorage.getItem(KEPT) ?? "null") ?? structuredClone(last ?? fresh);
  } catch {
    return fresh;
  }
}

/** @param {Hand} hand @param {Partial<Equivalent>} values */
function put(hand, values) {
  entry = { ...entry, ...values };
  try {
    sessionStorage.setItem(KEPT, JSON.stringify(entry));
  } catch {
    // Without room for it, it lasts as long as the page.
  }
  hand.draw();
}

/** @param {Hand} hand */
async function keep(hand) {
  const bare = { ...entry.setting, f_number_exact: null, time_s: null, film_speed_exact: null };
  const kept = { ...entry, setting: bare, at: new Date().toISOString() };
  if (await hand.apply((draft) => void draft.meter.consistency.push(structuredClone(kept)), "setting")) {
    hand.news = `Setting ${hand.inspection.meter.consistency.length} kept.`;
    hand.draw();
  }
}

/** @param {Hand} hand */
function answer(hand) {
  const result = hand.inspection.result?.consistency;
  if (!result) {
    return html`<section class="card"><p class="soft">In one steady light, settings that the camera takes for right must come to the same EV. Where they do not, a mark of a dial is off.</p>
      <p class="soft">Take each time with two f-numbers, by way of the film speed, and the first setting once more at the end.</p></section>`;
  }
  return html`<section class="card" aria-live="polite"><p><b>${result.sentence}</b></p>${notices(result.notices)}</section>
    ${result.effects.length > 0
      ? html`<h2>What is off</h2><ul class="effects">${result.effects.map((effect, i) => {
          const bar = hand.view.consistency_bars[i];
          return html`<li><p>${effect.words}</p>${bar ? drawing(bar) : nothing}</li>`;
        })}</ul>`
      : nothing}`;
}

/** @param {Hand} hand */
function draw(hand) {
  const entries = hand.view.consistency_entries;
  const drop = (/** @type {number} */ i) => hand.apply((draft) => void draft.meter.consistency.splice(i, 1), "setting removed");
  show({
    title: "Dials",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${happened(hand.news)}${answer(hand)}
      <section>
        <h2>A setting that the camera calls right</h2>
        ${refusal(hand.wrong)}
        ${settingDials({ id: "entry", of: "Setting", value: entry.setting, dials, open: true, set: (name, mark) => put(hand, { setting: { ...entry.setting, [name]: mark } }) })}
        <details class="speed"><summary>Read to: ${lists.resolutions.find((one) => one.key === entry.resolution)?.words}</summary>
          ${choice({ legend: "How finely it was set or read", name: "resolution", layout: "three", value: entry.resolution, options: lists.resolutions.map(({ key, words }) => ({ key, words })), pick: (resolution) => put(hand, { resolution }) })}</details>
      </section>
      ${entries.length > 0
        ? later(() => html`<h2>Kept: ${entries.length}</h2>
          <ul class="rows">${entries.map((one, i) => html`<li class="split"><span>${one.words} · <b>${one.ev_words}</b></span><button type="button" aria-label="Remove ${one.words}" @click=${() => drop(i)}>Remove</button></li>`)}</ul>`)
        : nothing}`,
    foot: html`<button type="button" @click=${() => hand.undo()}>Undo</button><button type="button" class="main" @click=${() => keep(hand)}>Keep this setting</button>`,
  });
}

withCamera(draw, async (hand) => {
  const theBench = await bench();
  lists = await theBench.lists();
  const { camera, lens } = hand.inspection;
  const between = camera.meter_between || "half";
  dials = { time: await theBench.places(camera.times, between, "time"), f_number: await theBench.places(lens.f_numbers, between, "f_number"), film_speed: speeds(lists.film_speeds), leap: leapOf(between) };
  entry = start(hand);
});
