/**
 * A setting by steppers: time and f-number, and the film speed, which seldom changes, behind its value.
 * Not here: which places a dial has, which the bench says.
 *
 * @import { Place, Setting } from "../bench/shapes.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { stepper } from "./stepper.js";

/**
 * @typedef {object} Dials The places of each dial.
 * @property {readonly Place[]} time
 * @property {readonly Place[]} f_number
 * @property {readonly Place[]} film_speed
 * @property {number} leap Places from one mark to the next; 0 where there is nothing between them.
 */

/** A whole mark and a part of one, both ways. */
const SIGNS = ["«", "−", "+", "»"];
/** Places from mark to mark, by how finely a dial is read; on a dial without anything between them there is nothing to leap over. */
const LEAPS = new Map([["half", 2], ["third", 3]]);

/** @param {string} between */
export const leapOf = (between) => LEAPS.get(between) ?? 0;

/** @returns {Setting} Somewhere in the middle of every dial. @param {string} film_speed */
export const setting = (film_speed) => ({ f_number: "5.6", time: "1/60", film_speed, f_number_exact: null, time_s: null, film_speed_exact: null });

/**
 * The setting with dials that have its marks: a mark that is not there any more gives way to the middle of the dial.
 *
 * @param {Setting} wanted
 * @param {Dials} dials
 * @returns {Setting}
 */
export function fit(wanted, dials) {
  /** @param {readonly Place[]} places @param {string} mark */
  const near = (places, mark) => (places.some((place) => place.mark === mark) ? mark : (places[Math.floor(places.length / 2)]?.mark ?? mark));
  return { ...wanted, time: near(dials.time, wanted.time), f_number: near(dials.f_number, wanted.f_number) };
}

/**
 * @param {object} what
 * @param {string} what.id
 * @param {string} what.of Whose setting it is, for those who only hear it.
 * @param {Setting} what.value
 * @param {Dials} what.dials
 * @param {(name: "time" | "f_number" | "film_speed", mark: string) => void} what.set
 * @param {boolean} [what.speed] Whether the film speed is shown too; `false` where it follows another setting.
 * @param {boolean} [what.open] Whether the film speed is one of the dials that are stepped through.
 */
export function settingDials({ id, of, value, dials, set, speed = true, open = false }) {
  const one = (/** @type {"time" | "f_number" | "film_speed"} */ name, /** @type {string} */ label) =>
    stepper({ label, group: of, id: `${id}-${name}`, places: dials[name], value: value[name], set: (mark) => set(name, mark), ...(dials.leap > 0 && name !== "film_speed" ? { leap: dials.leap, signs: SIGNS } : {}) });
  return html`<div class="dials">
    ${one("time", "Time")}${one("f_number", "F-number")}
    ${!speed ? nothing : open ? one("film_speed", "Film speed") : html`<details class="speed"><summary>Film speed set: ISO ${value.film_speed}</summary>${one("film_speed", "Film speed")}</details>`}
  </div>`;
}
