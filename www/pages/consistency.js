/** The consistency check: settings that the camera takes for equal in one steady light. Not here: any reference. */
import { html } from "../vendor/lit-html/lit-html.js";
import { bench } from "../bench/client.js";
import { drawing } from "../plot/drawing.js";
import { alertBox, show, to } from "../view/frame.js";
import { choose } from "../view/bits.js";
import { dial } from "../view/dial.js";
import { atDesk } from "./desk.js";

const theBench = await bench();
const lists = await theBench.lists();
/** @type {any} */
const entry = { at: "", resolution: "half", setting: { f_number: "5.6", time: "1/60", film_speed: "100", f_number_exact: null, time_s: null, film_speed_exact: null } };
/** @type {Record<string, any[]>} */
const places = {};

atDesk(draw, async (desk) => {
  const { camera, lens } = desk.inspection;
  const between = camera.meter_between || "half";
  places.time = await theBench.places(camera.times, between, "time");
  places.f_number = await theBench.places(lens.f_numbers, between, "f_number");
  places.film_speed = await theBench.places([], "whole", "film_speed");
});

/** @param {any} desk @param {unknown} wrong */
function draw(desk, wrong) {
  const result = desk.inspection.result?.consistency;
  const again = () => draw(desk, "");
  /** @param {string} label @param {string} name */
  const one = (label, name) => dial({ label, id: name, places: places[name] ?? [], value: entry.setting[name], set: (mark) => { entry.setting[name] = mark; again(); } });
  show({
    title: "Dials",
    back: [to("inspection"), desk.view.title],
    main: html`${alertBox(wrong)}
      <p>In one steady light, every setting that the camera takes for right must come to the same EV. Take each time with two f-numbers, by changing the film speed; take the first once more at the end.</p>
      ${result ? html`<section class="card" aria-live="polite"><p>${result.sentence}</p>${result.notices.map((/** @type {string} */ text) => html`<p class="small">${text}</p>`)}</section>
        ${result.effects.map((/** @type {any} */ effect, /** @type {number} */ i) => html`<div class="row"><div>${effect.words}${desk.view.consistency_bars[i] ? drawing(desk.view.consistency_bars[i]) : ""}</div></div>`)}` : ""}
      <h2>A setting that is right</h2>
      ${one("Time", "time")}${one("F-number", "f_number")}${one("Film speed", "film_speed")}
      ${choose({ legend: "Read to", name: "resolution", value: entry.resolution, options: lists.resolutions, pick: (key) => { entry.resolution = key; again(); } })}
      <ul class="plain">${desk.view.consistency_entries.map((/** @type {any} */ kept, /** @type {number} */ i) => html`<li class="row"><span>${kept.words} · ${kept.ev_words}</span>
        <button aria-label="Remove ${kept.words}" @click=${() => desk.apply((/** @type {any} */ draft) => { draft.meter.consistency.splice(i, 1); }, "setting")}>Remove</button></li>`)}</ul>`,
    foot: html`<button @click=${() => desk.undo()}>Undo</button><button class="main" @click=${() =>
      desk.apply((/** @type {any} */ draft) => { draft.meter.consistency.push(structuredClone({ ...entry, at: new Date().toISOString() })); }, "setting")}>Keep this setting</button>`,
  });
}
