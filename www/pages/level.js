/** Entering levels: reference and reading by steppers, the error at once. Not here: the run as a whole (meter.js). */
import { html } from "../vendor/lit-html/lit-html.js";
import { bench } from "../bench/client.js";
import { drawing } from "../plot/drawing.js";
import { alertBox, sentence, show, to } from "../view/frame.js";
import { choose, field, levelRow } from "../view/bits.js";
import { dial } from "../view/dial.js";
import { atDesk } from "./desk.js";

const theBench = await bench();
const lists = await theBench.lists();
const preview = theBench.latest("previewLevel");
/** @type {any} The level being entered. */
let level = null;
/** @type {any} */
let seen = null;
let why = "";
/** @type {Record<string, any[]>} */
const places = {};

const setting = (/** @type {string} */ speed) => ({ f_number: "5.6", time: "1/60", film_speed: speed, f_number_exact: null, time_s: null, film_speed_exact: null });

/** @param {any} desk @param {any} run @param {any} kind */
function begin(desk, run, kind) {
  const last = run.levels.at(-1);
  if (last) {
    return structuredClone({ ...last, at: "", readings: last.readings.slice(-1) });
  }
  const { camera } = desk.inspection;
  const shows = camera.meter_shows && camera.meter_shows !== "none" ? camera.meter_shows : "setting";
  return {
    at: "",
    reference: { way: kind.ways[0], setting: setting(run.film_speed), typed: "", sky: "distinct_shadow", illuminance_lux: null, luminance_cd_m2: null, ev100: null },
    readings: [{ way: shows, setting: setting(run.film_speed), other: setting(run.film_speed), typed: "", resolution: shows === "ev" ? "0.1" : camera.meter_between || "half", step_stops: null, ev100: null }],
  };
}

atDesk(draw, async (desk) => {
  const { camera, lens } = desk.inspection;
  const between = camera.meter_between || "half";
  places.times = await theBench.places(camera.times, between, "time");
  places.f_numbers = await theBench.places(lens.f_numbers, between, "f_number");
  places.ownTimes = await theBench.places([], "third", "time");
  places.ownNumbers = await theBench.places([], "third", "f_number");
  places.speeds = lists.film_speeds.map((mark) => ({ mark, label: `ISO ${mark}` }));
});

/** @param {any} desk @param {unknown} wrong */
function draw(desk, wrong) {
  const at = desk.inspection.meter.runs.length - 1;
  const run = desk.inspection.meter.runs[at];
  const kind = lists.references.find((one) => one.key === run?.reference.kind);
  if (!run || !kind) {
    location.href = to("reference");
    return;
  }
  level ??= begin(desk, run, kind);
  if (!kind.ways.includes(level.reference.way)) {
    level.reference.way = kind.ways[0];
  }
  const reading = level.readings[0];
  const changed = () => { paint(); look(); };
  const look = async () => {
    try {
      const found = await preview(desk.inspection, at, level);
      if (found) { seen = found; why = ""; }
    } catch (error) { seen = null; why = sentence(error); }
    paint();
  };
  /** @param {string} id @param {any} of @param {any[]} times @param {any[]} numbers */
  const dials = (id, of, times, numbers) => html`
    ${dial({ label: "Time", id: `${id}-t`, places: times, value: of.time, set: (mark) => { of.time = mark; changed(); } })}
    ${dial({ label: "F-number", id: `${id}-f`, places: numbers, value: of.f_number, set: (mark) => { of.f_number = mark; changed(); } })}
    ${dial({ label: "Film speed", id: `${id}-s`, places: places.speeds ?? [], value: of.film_speed, set: (mark) => { of.film_speed = mark; changed(); } })}`;
  const own = () => html`${dials("own", reading.setting, places.times ?? [], places.f_numbers ?? [])}
    ${reading.way === "lamps" ? html`<h3>and the setting on the other side</h3>${dials("other", reading.other, places.times ?? [], places.f_numbers ?? [])}` : ""}`;
  const unit = { ev: "EV at ISO 100", illuminance: "Lux", luminance: "cd/m²" };
  const keep = () => {
    const kept = structuredClone({ ...level, at: new Date().toISOString() });
    return desk.apply((/** @type {any} */ draft) => { draft.meter.runs[at].levels.push(kept); }, "level").then(changed);
  };
  const again = () => desk.apply((/** @type {any} */ draft) => { draft.meter.runs[at].levels.at(-1)?.readings.push(structuredClone(reading)); }, "reading").then(changed);
  const judged = run.levels.length > 0 ? desk.inspection.result?.meter : null;
  function paint() {
    show({
      title: `Level ${run.levels.length + 1}`,
      back: [to("meter"), "Meter"],
      main: html`${alertBox(wrong)}
        <section class="card" aria-live="polite">${seen ? html`<p class="big">${seen.error_words}</p><p class="soft">${seen.doubt_words} · ${seen.light_words}</p>${drawing(seen.bar)}${seen.notice ? html`<p class="caution">${seen.notice}</p>` : ""}` : html`<p>${why || "One moment …"}</p>`}</section>
        <h2>The light, by ${kind?.words}</h2>
        ${kind && kind.ways.length > 1 ? choose({ legend: "Entered as", name: "way", value: level.reference.way, options: kind.ways.map((key) => ({ key, words: key === "setting" ? "time and f-number" : unit[/** @type {"ev"} */ (key)] ?? key })), pick: (way) => { level.reference.way = way; changed(); } }) : ""}
        ${level.reference.way === "setting" ? dials("ref", level.reference.setting, places.ownTimes ?? [], places.ownNumbers ?? [])
          : level.reference.way === "sky" ? choose({ legend: "The sky", name: "sky", wide: true, value: level.reference.sky, options: lists.skies, pick: (sky) => { level.reference.sky = sky; changed(); } })
          : field({ label: unit[/** @type {"ev"} */ (level.reference.way)] ?? "", id: "typed", value: level.reference.typed, decimal: true, type: (typed) => { level.reference.typed = typed; changed(); } })}
        <h2>The camera says</h2>
        ${reading.way === "ev" ? field({ label: "EV shown", id: "shown", value: reading.typed, decimal: true, type: (typed) => { reading.typed = typed; changed(); } }) : own()}
        ${choose({ legend: "Read to", name: "resolution", value: reading.resolution, options: reading.way === "ev" ? lists.ev_digits : lists.resolutions, pick: (one) => { reading.resolution = one; changed(); } })}
        ${judged ? html`<h2>Kept</h2>${judged.levels.map((/** @type {any} */ one, /** @type {number} */ i) => levelRow(one, desk.view.meter_bars[i]))}
          <div class="buttons"><button @click=${again}>Add this reading to the last level</button><button @click=${() => desk.undo()}>Undo</button></div>` : ""}`,
      foot: html`<a class="button" href=${to("meter")}>Done</a><button class="main" ?disabled=${!seen} @click=${keep}>Keep and next</button>`,
    });
  }
  changed();
}
