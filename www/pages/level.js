/**
 * Entering levels with one thumb: what the light is, what the camera says, the error at once, keep and next. A level that is
 * kept can be put right or read again here too.
 * Not here: the run as a whole (`meter.js`); what a new level begins with (`level-draft.js`).
 *
 * @import { Level, LevelPreview, Lists, ReferenceChoice, Run } from "../bench/shapes.js"
 * @import { Dials } from "../view/setting.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { later } from "../view/later.js";
import { levelRow } from "../view/level-row.js";
import { asked, to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { speeds } from "../view/scales.js";
import { leapOf, setting as settingOf } from "../view/setting.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";
import { begin, clean, remember, remembered, waitingLight } from "./level-draft.js";
import { cameraPart, lightPart, previewPart } from "./level-parts.js";

const theBench = await bench();
const preview = theBench.latest("previewLevel");
/** Which level is being put right; a new one where there is no such number. */
const number = Number(asked.get("level") ?? 0);
const again = asked.has("repeat");
const slot = number > 0 ? `${number}${again ? "-again" : ""}` : "new";

/** @type {Lists} */
let lists;
/** @type {{ own: Dials, usual: Dials }} */
let dials;
/** @type {Level | null} */
let level = null;
/** @type {LevelPreview | null} */
let seen = null;
/** @type {unknown} */
let wrong = "";

/** @param {Hand} hand @returns {{ last: number, run: Run, kind: ReferenceChoice } | null} With the kind of reference that the level in hand is held against. */
function inHand(hand) {
  const last = hand.inspection.meter.runs.length - 1;
  const run = hand.inspection.meter.runs[last];
  const source = (level ?? run?.levels[number - 1])?.reference.source ?? 0;
  const held = source === 0 ? run?.reference : run?.more_references[source - 1];
  const kind = lists.references.find((one) => one.key === held?.kind);
  return run && kind && number <= run.levels.length ? { last, run, kind } : null;
}

/** @param {Run} run @param {ReferenceChoice} kind @param {Hand} hand @returns {Level} */
function start(run, kind, hand) {
  const kept = run.levels[number - 1];
  const light = number === 0 ? waitingLight() : null;
  if (light) {
    const here = remembered(slot) ?? begin(hand.inspection, run, kind, dials.own);
    return { ...here, reference: light };
  }
  const tab = remembered(slot);
  if (tab && kind.ways.includes(tab.reference.way)) {
    return tab;
  }
  if (!kept) {
    return begin(hand.inspection, run, kind, dials.own);
  }
  const last = kept.readings.at(-1);
  return structuredClone({ ...kept, readings: again && last ? [...kept.readings, last] : kept.readings });
}

/** @param {Hand} hand @param {number} last Shows what the level comes to, as soon as the bench has said so. */
async function look(hand, last) {
  if (!level) {
    return;
  }
  try {
    const found = await preview(hand.inspection, last, clean(level));
    if (found) {
      [seen, wrong] = [found, ""];
    } else {
      return;
    }
  } catch (error) {
    [seen, wrong] = [null, error];
  }
  paint(hand);
}

/** @param {Hand} hand @param {number} last */
async function keep(hand, last) {
  if (!level || !seen) {
    return;
  }
  const kept = { ...clean(level), at: number > 0 ? level.at : new Date().toISOString() };
  const done = await hand.apply((draft) => {
    const levels = draft.meter.runs[last]?.levels ?? [];
    levels.splice(number > 0 ? number - 1 : levels.length, number > 0 ? 1 : 0, kept);
  }, again ? "reading" : "level");
  if (!done) {
    return;
  }
  remember(slot, null);
  if (number > 0) {
    location.replace(again ? to("level") : to("meter"));
    return;
  }
  hand.news = `Level ${hand.inspection.meter.runs[last]?.levels.length} kept.`;
  paint(hand);
}

/** @param {Hand} hand @param {number} last */
async function drop(hand, last) {
  if (await hand.apply((draft) => draft.meter.runs[last]?.levels.splice(number - 1, 1), "level removed")) {
    remember(slot, null);
    location.replace(to("meter"));
  }
}

/** @param {Hand} hand @param {Run} run The level that was kept last, with its bar, to be taken back or read again. */
function lately(hand, run) {
  const judged = run.levels.length > 0 ? hand.inspection.result?.meter : null;
  const i = (judged?.levels.length ?? 0) - 1;
  const one = judged?.levels[i];
  if (number > 0 || !one) {
    return nothing;
  }
  return html`<section class="lately">
    <h2>Level ${i + 1}, kept</h2>
    <ul class="levels">${levelRow(one, hand.view.meter_bars[i])}</ul>
    <div class="actions">
      <button type="button" @click=${() => hand.undo()}>Undo</button>
      <a class="button" href=${to("level", { level: String(i + 1), repeat: "" })}>Read it again</a>
    </div>
  </section>`;
}

/** The light is entered by hand again, against the run's first reference. @param {Run} run */
function byHand(run) {
  const first = lists.references.find((one) => one.key === run.reference.kind);
  if (level && first) {
    const way = first.ways[0] ?? "ev";
    Object.assign(level.reference, { way, source: 0, own_doubt_stops: null, typed: way === "ev" ? "10.0" : "", setting: level.reference.setting ?? settingOf(run.film_speed) });
  }
}

/** @param {Hand} hand */
function paint(hand) {
  const now = inHand(hand);
  if (!now || !level) {
    return;
  }
  const { last, run, kind } = now;
  const draft = level;
  const changed = () => {
    remember(slot, draft);
    paint(hand);
    look(hand, last);
  };
  const title = number === 0 ? `Level ${run.levels.length + 1}` : again ? `Level ${number} again` : `Level ${number}`;
  show({
    title,
    about: hand.view.title,
    up: [to("meter"), "Meter"],
    main: html`${refusal(hand.wrong)}<div class="against">${happened(hand.news)}${hand.news ? nothing : html`<p class="small">${kind.words}</p>`}</div>
      ${previewPart(draft, seen, wrong)}
      ${lightPart({ level: draft, kind, lists, byHand: () => byHand(run), dials: dials.usual, fixed: again, words: run.levels[number - 1]?.reference.ev100 !== undefined ? (hand.inspection.result?.meter?.levels[number - 1]?.light_words ?? "") : "", wrong, changed })}
      ${later(() => cameraPart({ level: draft, lists, dials: dials.own, changed }))}
      ${later(() => lately(hand, run))}
      ${number > 0 ? later(() => html`<div class="actions">${again ? nothing : html`<a class="button" href=${to("level", { level: String(number), repeat: "" })}>Read it again</a>`}
        <button type="button" @click=${() => drop(hand, last)}>Remove this level</button></div>`) : nothing}`,
    foot: number > 0
      ? html`<a class="button" href=${to("meter")}>Leave as it was</a><button type="button" class="main" ?disabled=${!seen} @click=${() => keep(hand, last)}>${again ? "Keep this reading" : "Keep"}</button>`
      : html`<a class="button" href=${to("meter")}>Done</a><button type="button" class="main" ?disabled=${!seen} @click=${() => keep(hand, last)}>Keep and next</button>`,
  });
}

/** @param {Hand} hand */
function draw(hand) {
  const now = inHand(hand);
  if (!now) {
    location.replace(to(hand.inspection.meter.runs.length > 0 ? "meter" : "reference"));
    return;
  }
  level ??= start(now.run, now.kind, hand);
  paint(hand);
  look(hand, now.last);
}

withCamera(draw, async (hand) => {
  lists = await theBench.lists();
  const { camera, lens } = hand.inspection;
  const between = camera.meter_between || "half";
  const film_speed = speeds(lists.film_speeds);
  dials = {
    own: { time: await theBench.places(camera.times, between, "time"), f_number: await theBench.places(lens.f_numbers, between, "f_number"), film_speed, leap: leapOf(between) },
    usual: { time: await theBench.places([], "third", "time"), f_number: await theBench.places([], "third", "f_number"), film_speed, leap: leapOf("third") },
  };
});
