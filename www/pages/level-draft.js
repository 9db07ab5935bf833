/**
 * The level that is being entered: what it begins with, and that a page that is closed finds it again.
 * Not here: what a level comes to (the bench); keeping it in the record (`level.js`).
 *
 * @import { Inspection, Level, Reading, ReferenceChoice, Run } from "../bench/shapes.js"
 * @import { Dials } from "../view/setting.js"
 */

import { key } from "../view/links.js";
import { fit, setting } from "../view/setting.js";

/** Until a level is kept it is no part of the record; the tab remembers it. @param {string} what */
const name = (what) => `lampblack.level.${key}.${what}`;

/** @param {string} what Which level: `new`, or its number. @returns {Level | null} */
export function remembered(what) {
  try {
    return JSON.parse(sessionStorage.getItem(name(what)) ?? "null");
  } catch {
    return null;
  }
}

/** @param {string} what @param {Level | null} level */
export function remember(what, level) {
  try {
    if (level) {
      sessionStorage.setItem(name(what), JSON.stringify(level));
    } else {
      sessionStorage.removeItem(name(what));
    }
  } catch {
    // Without room for it, a level lasts as long as the page.
  }
}

/** @param {Level["reference"]} light Waits for the next level. */
export function leaveLight(light) {
  try {
    sessionStorage.setItem(name("light"), JSON.stringify(light));
  } catch {
    // Without room for it the light is typed.
  }
}

/** @returns {Level["reference"] | null} The light that waits, once. */
export function waitingLight() {
  try {
    const light = JSON.parse(sessionStorage.getItem(name("light")) ?? "null");
    sessionStorage.removeItem(name("light"));
    return light;
  } catch {
    return null;
  }
}

/** @param {Inspection} inspection @param {Run} run @param {Dials} dials @returns {Reading} */
function firstReading({ camera }, run, dials) {
  const way = ["", "none"].includes(camera.meter_shows) ? "setting" : camera.meter_shows;
  const here = fit(setting(run.film_speed), dials);
  const next = dials.time[dials.time.findIndex((place) => place.mark === here.time) + 1]?.mark ?? dials.time[0]?.mark ?? here.time;
  return {
    way,
    setting: here,
    other: way === "lamps" ? { ...here, time: next } : null,
    typed: way === "ev" ? "10.0" : "",
    resolution: way === "ev" ? "0.1" : camera.meter_between || "half",
    step_stops: null,
    ev100: null,
  };
}

/**
 * A new level: it begins where the last one was.
 *
 * @param {Inspection} inspection
 * @param {Run} run
 * @param {ReferenceChoice} kind
 * @param {Dials} own The camera's dials.
 * @returns {Level}
 */
export function begin(inspection, run, kind, own) {
  const last = run.levels.at(-1);
  const way = kind.ways[0] ?? "ev";
  /** @type {Level["reference"]} */
  const fresh = { way, source: 0, own_doubt_stops: null, setting: setting(run.film_speed), typed: way === "ev" ? "10.0" : "", sky: way === "sky" ? "distinct_shadow" : "", illuminance_lux: null, luminance_cd_m2: null, ev100: null };
  return structuredClone({
    at: "",
    // A light that was worked out belongs to its own level; what is entered by hand goes on from the last one.
    reference: last && last.reference.source === 0 && last.reference.own_doubt_stops === null && kind.ways.includes(last.reference.way) ? { ...last.reference, setting: last.reference.setting ?? fresh.setting } : fresh,
    readings: [last?.readings.at(-1) ?? firstReading(inspection, run, own)],
  });
}

/**
 * The level as it goes into the record: the numbers beside the texts are the bench's business.
 *
 * @param {Level} level
 * @returns {Level}
 */
export function clean(level) {
  const { reference } = level;
  return structuredClone({
    ...level,
    reference: {
      ...reference,
      setting: reference.way === "setting" ? reference.setting : null,
      typed: ["ev", "illuminance", "luminance"].includes(reference.way) ? reference.typed : "",
      sky: reference.way === "sky" ? reference.sky : "",
      illuminance_lux: null,
      luminance_cd_m2: null,
      ev100: null,
    },
    readings: level.readings.map((reading) => ({ ...reading, step_stops: null, ev100: null })),
  });
}
