/**
 * The parts of the page for a level: what it comes to, the light, what the camera says.
 * Not here: keeping it (`level.js`); any number, which the bench works out.
 *
 * @import { Level, LevelPreview, Lists, Reading, ReferenceChoice, Setting } from "../bench/shapes.js"
 * @import { Dials } from "../view/setting.js"
 */

import { drawing } from "../plot/drawing.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { side } from "../view/level-row.js";
import { to } from "../view/links.js";
import { refusal, sentence } from "../view/notice.js";
import { EV_TENTHS, EV_WHOLE } from "../view/scales.js";
import { settingDials } from "../view/setting.js";
import { stepper } from "../view/stepper.js";

/** Tenths and whole EV. @type {[string, string, string, string]} */
const EV_SIGNS = ["−1", "−0.1", "+0.1", "+1"];
/** The ways in which a light can be entered. @type {Record<string, string>} */
const WAYS = { setting: "time, f‑number", ev: "EV at ISO 100", illuminance: "lux", luminance: "cd/m²", sky: "the sky" };
/** @type {Record<string, string>} */
const UNITS = { illuminance: "Illuminance in lux", luminance: "Luminance in cd/m²" };

/** @param {Level} level Whether there is nothing to judge yet, because a number has still to be typed. */
const unfinished = ({ reference }) => reference.way in UNITS && reference.typed.trim() === "";
/** @param {Level} level Whether what is wrong has its place at the number that was typed. */
const atNumber = ({ reference }) => reference.way in UNITS;

/** @param {Level} level @param {LevelPreview | null} seen @param {unknown} wrong */
export function previewPart(level, seen, wrong) {
  return html`<section class="card preview" aria-live="polite" aria-label="What this level comes to">
    ${seen
      ? html`<p class="headline"><b class="big ${side(seen.error_words)}">${seen.error_words}</b> <span class="soft"><span>${seen.doubt_words}</span> <span>${seen.light_words}</span></span></p>
          ${drawing(seen.bar, { stretched: true })}${seen.notice ? html`<p class="notice">${seen.notice}</p>` : nothing}`
      : unfinished(level)
        ? html`<p class="soft">Type what the instrument says; the error shows here at once.</p>`
        : wrong && !atNumber(level)
          ? refusal(wrong)
          : html`<p class="soft">${wrong ? "No error yet: see below." : "One moment …"}</p>`}
  </section>`;
}

/**
 * @param {object} what
 * @param {Level} what.level
 * @param {ReferenceChoice} what.kind
 * @param {Lists} what.lists
 * @param {Dials} what.dials The usual places, since the reference has its own scales.
 * @param {boolean} what.fixed The light is the one that was entered before.
 * @param {() => void} what.byHand Enters it by hand where it was worked out.
 * @param {string} what.words That light in words.
 * @param {unknown} what.wrong
 * @param {() => void} what.changed
 */
export function lightPart({ level, kind, lists, dials, byHand, fixed, words, wrong, changed }) {
  const { reference } = level;
  const put = (/** @type {Partial<Level["reference"]>} */ values) => {
    Object.assign(reference, values);
    changed();
  };
  const way = (/** @type {string} */ key) => {
    put({ way: key, typed: key === "ev" ? "10.0" : "" });
  };
  const entry = () => {
    switch (reference.way) {
      case "setting":
        return reference.setting ? settingDials({ id: "light", of: "Reference", value: reference.setting, dials, set: (name, mark) => put({ setting: { .../** @type {Setting} */ (reference.setting), [name]: mark } }) }) : nothing;
      case "ev":
        return stepper({ label: "EV at ISO 100", group: "Reference", id: "light-ev", places: EV_TENTHS, value: reference.typed, leap: 10, signs: EV_SIGNS, set: (typed) => put({ typed }) });
      case "sky":
        return choice({ legend: "What is the sky like?", name: "sky", layout: "wide", value: reference.sky, options: lists.skies, pick: (sky) => put({ sky }) });
      default:
        return field({ label: UNITS[reference.way] ?? "", id: "light-typed", decimal: true, value: reference.typed, wrong: wrong && !unfinished(level) ? sentence(wrong) : "", type: (typed) => put({ typed }) });
    }
  };
  return html`<section>
    <h2>The light</h2>
    ${fixed
      ? html`<p><b>${words}</b>, as entered for this level. Read the camera once more in the same light.</p>`
      : reference.own_doubt_stops !== null
      ? html`<p><b>${reference.way === "illuminance" ? `${reference.typed} lux` : `EV ${reference.typed}`}</b>: ${kind.words.toLowerCase()}.</p>
          <div class="actions"><button type="button" @click=${() => { byHand(); changed(); }}>Enter it by hand instead</button></div>`
      : html`${kind.ways.length > 1 ? choice({ legend: "Entered as", name: "way", layout: "even", quiet: true, value: reference.way, options: kind.ways.map((key) => ({ key, words: WAYS[key] ?? key })), pick: way }) : nothing}${entry()}`}
    ${fixed ? nothing : html`<p class="small ways">Or take it <a class="tap" href=${to("photo")}>from a photo</a>, <a class="tap" href=${to("sun")}>from sun and sky</a>, <a class="tap" href=${to("lamp")}>from this screen</a></p>`}
  </section>`;
}

/**
 * @param {object} what
 * @param {Level} what.level Its last reading is the one that is entered.
 * @param {Lists} what.lists
 * @param {Dials} what.dials The camera's own.
 * @param {() => void} what.changed
 */
export function cameraPart({ level, lists, dials, changed }) {
  const reading = level.readings.at(-1);
  if (!reading) {
    return nothing;
  }
  const put = (/** @type {Partial<Reading>} */ values) => {
    Object.assign(reading, values);
    changed();
  };
  const step = (/** @type {"time" | "f_number" | "film_speed"} */ name, /** @type {string} */ mark) => {
    const speed = name === "film_speed" && reading.other ? { other: { ...reading.other, film_speed: mark } } : {};
    put({ setting: { .../** @type {Setting} */ (reading.setting), [name]: mark }, ...speed });
  };
  const options = reading.way === "ev" ? lists.ev_digits : lists.resolutions;
  const resolution = options.find((one) => one.key === reading.resolution);
  return html`<section>
    <h2>The camera says</h2>
    ${level.readings.length > 1 ? html`<p class="small">Reading ${level.readings.length} of this level.</p>` : nothing}
    ${reading.way === "ev"
      ? stepper({ label: "EV shown", group: "Camera", id: "shown", places: reading.resolution === "1" ? EV_WHOLE : EV_TENTHS, value: reading.typed, ...(reading.resolution === "1" ? {} : { leap: 10, signs: EV_SIGNS }), set: (typed) => put({ typed }) })
      : reading.setting
        ? settingDials({ id: "own", of: "Camera", value: reading.setting, dials, set: step })
        : nothing}
    ${reading.way === "lamps" && reading.other
      ? html`<h3>The lamps change between this and</h3>
          ${settingDials({ id: "other", of: "Camera, other side", value: reading.other, dials, speed: false, set: (name, mark) => put({ other: { .../** @type {Setting} */ (reading.other), [name]: mark } }) })}`
      : nothing}
    ${["lamps", "enough_light"].includes(reading.way)
      ? nothing
      : html`<details class="speed"><summary>Read to: ${resolution?.words ?? reading.resolution}</summary>
          ${choice({ legend: "How finely it was read", name: "resolution", layout: "three", value: reading.resolution, options: options.map(({ key, words }) => ({ key, words })),
            pick: (key) => put({ resolution: key, ...(reading.way === "ev" ? { typed: key === "1" ? (reading.typed.split(".")[0] ?? "") : reading.typed } : {}) }) })}
        </details>`}
  </section>`;
}
