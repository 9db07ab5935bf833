/**
 * Sun and sky as a reference: where and when, what the sky is like, the light on each surface with its doubt beside what sunny 16
 * says, the day; and taken into the next level.
 * Not here: the reckoning (the bench).
 *
 * @import { CityChoice, Lists, SunSurface, SunView } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { whereWeAre } from "../capture/place.js";
import { drawing } from "../plot/drawing.js";
import * as settings from "../store/settings.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { to } from "../view/links.js";
import { caution, happened, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";
import { useLight } from "./use-light.js";

const NAME = "place";
const theBench = await bench();
/** @type {Lists} */
let lists;
/** @type {CityChoice[]} */
let cities = [];
let place = { latitude: "", longitude: "" };
let sky = "clear";
let surface = "";
/** @type {SunView | null} */
let view = null;
let busy = "";
/** @type {unknown} */
let wrong = "";
let turn = 0;

/** @param {Hand} hand */
async function reckon(hand) {
  const mine = ++turn;
  if (place.latitude.trim() === "" || place.longitude.trim() === "") {
    view = null;
    hand.draw();
    return;
  }
  try {
    const found = await theBench.sunView(new Date(), place.latitude, place.longitude, sky);
    if (mine === turn) {
      [view, wrong] = [found, ""];
      settings.set(NAME, place).catch(() => {});
    }
  } catch (error) {
    if (mine === turn) {
      [view, wrong] = [null, error];
    }
  }
  hand.draw();
}

/** @param {Hand} hand @param {Partial<typeof place>} values */
function put(hand, values) {
  place = { ...place, ...values };
  return reckon(hand);
}

/** @param {Hand} hand */
async function find(hand) {
  [busy, wrong] = ["Asking the phone …", ""];
  hand.draw();
  try {
    place = await whereWeAre();
  } catch (error) {
    wrong = error;
  }
  busy = "";
  await (wrong ? hand.draw() : reckon(hand));
}

/** @param {Hand} hand */
const where = (hand) => html`<details ?open=${view === null}><summary>Where: ${place.latitude ? `${place.latitude}°, ${place.longitude}°` : "not known yet"}</summary>
  <div class="actions"><button type="button" @click=${() => find(hand)}>Ask the phone</button></div>
  <div class="field"><label for="city">Or a city near by</label>
    <select id="city" @change=${(/** @type {Event} */ event) => { const city = cities[Number(/** @type {HTMLSelectElement} */ (event.target).value)]; if (city) { put(hand, { latitude: city.latitude, longitude: city.longitude }); } }}>
      <option value="">choose …</option>${cities.map((one, i) => html`<option value=${i} ?selected=${one.latitude === place.latitude && one.longitude === place.longitude}>${one.name}</option>`)}
    </select></div>
  <div class="triple">${field({ label: "Latitude, north +", id: "latitude", decimal: true, value: place.latitude, type: (latitude) => put(hand, { latitude }) })}
    ${field({ label: "Longitude, east +", id: "longitude", decimal: true, value: place.longitude, type: (longitude) => put(hand, { longitude }) })}</div>
  <p class="small">To a tenth of a degree, on this phone only; it goes into no file.</p></details>`;

/** @param {SunSurface} one */
const answer = (one) => html`<section class="card" aria-live="polite" aria-label="The light to expect">
  <p class="headline"><b class="big">${one.ev_words}</b> <span class="soft"><span>${one.doubt_words}</span> <span>${one.lux_words}</span></span></p>
  <p>${one.sunny16_words.charAt(0).toUpperCase()}${one.sunny16_words.slice(1)}.</p>
</section>`;

/** @param {Hand} hand @param {SunView} seen @param {SunSurface} one */
function light(hand, seen, one) {
  return html`${answer(one)}
    ${seen.notices.map((text) => html`<p class="notice">${text}</p>`)}
    ${choice({ legend: "What is lit", name: "surface", layout: "wide", value: one.key, options: seen.surfaces.map(({ key, words, best, ev_words, doubt_words }) => ({ key, words, help: `${ev_words} ${doubt_words}${best ? " · known best now" : ""}` })), pick: (key) => { surface = key; hand.draw(); } })}`;
}

/** @param {Hand} hand @param {SunSurface} one */
function use(hand, one) {
  const { typed, each_doubt_stops, shared_doubt_stops } = one;
  // What the meter looks at there is a card; the place is nobody's business.
  return useLight(hand, { reference: { kind: "daylight", each_doubt_stops, shared_doubt_stops, surface: "card_18", note: `${sky} sky, ${one.words}` }, way: "illuminance", typed, own_doubt_stops: each_doubt_stops });
}

/** @param {Hand} hand */
function draw(hand) {
  const one = view?.surfaces.find((other) => other.key === surface) ?? view?.surfaces.find((other) => other.best) ?? null;
  show({
    title: "Sun and sky",
    about: hand.view.title,
    up: [to("level"), "Level"],
    main: html`${refusal(wrong || hand.wrong)}${happened(hand.news || busy)}
      ${caution(lists.references.find((kind) => kind.key === "daylight")?.caution ?? "")}
      ${where(hand)}
      ${choice({ legend: "The sky", name: "sky", layout: "wide", value: sky, options: lists.model_skies, pick: (key) => { sky = key; reckon(hand); } })}
      ${view && one ? light(hand, view, one) : view?.refusal ? html`<section class="card">${refusal(view.refusal)}</section>` : nothing}
      ${view ? html`<p class="small">The sun stands at ${view.sun_words}. The target is lit by sun and sky alone: nothing in their way, no wall beside it.</p>
        ${view.plot ? html`<figure>${drawing(view.plot)}<figcaption>${view.good_words}</figcaption></figure>` : nothing}
        <p class="help">Sun: NREL's solar position algorithm. Light: the sky models of the IES (1984). Read the camera on a grey card that lies as the chosen surface does.</p>` : nothing}`,
    foot: html`<a class="button" href=${to("level")}>Back</a><button type="button" class="main" ?disabled=${!one} @click=${() => one && use(hand, one)}>Use this light</button>`,
  });
}

withCamera(draw, async (hand) => {
  lists = await theBench.lists();
  cities = await theBench.cities();
  place = { ...place, ...(await settings.get(NAME).catch(() => null)) };
  await reckon(hand);
});
