/**
 * A light that was worked out (from a photo, the sun, the screen) becomes the light of the next level: its reference joins the run
 * where it is not in it yet, and the page for levels finds it waiting.
 * Not here: working it out; the level itself (`level.js`).
 *
 * @import { Inspection, Reference } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { to } from "../view/links.js";
import { leaveLight } from "./level-draft.js";

/**
 * @typedef {object} Light
 * @property {Reference} reference
 * @property {string} way
 * @property {string} typed
 * @property {number | null} own_doubt_stops Of this light alone.
 */

/** @param {Reference} a @param {Reference} b Whether levels held against them share one doubt. */
const same = (a, b) => a.kind === b.kind && a.note === b.note && a.shared_doubt_stops === b.shared_doubt_stops && a.surface === b.surface;

/** @param {Inspection} draft @param {Reference} reference @returns {number} Its number within the run. */
function join(draft, reference) {
  const run = draft.meter.runs.at(-1);
  if (!run) {
    draft.meter.runs.push({ started: new Date().toISOString(), reference, more_references: [], tolerance_stops: 0.5, film_speed: "100", levels: [] });
    return 0;
  }
  if (run.levels.length === 0 && run.more_references.length === 0) {
    run.reference = reference;
    return 0;
  }
  const there = [run.reference, ...run.more_references].findIndex((one) => same(one, reference));
  return there >= 0 ? there : run.more_references.push(reference);
}

/** @param {Hand} hand @param {Light} light Goes on to the page for levels. */
export async function useLight(hand, { reference, way, typed, own_doubt_stops }) {
  let source = 0;
  const kept = await hand.apply((draft) => { source = join(draft, structuredClone(reference)); }, "reference");
  if (kept) {
    leaveLight({ way, source, own_doubt_stops, setting: null, typed, sky: "", illuminance_lux: null, luminance_cd_m2: null, ev100: null });
    location.href = to("level");
  }
}
