/**
 * Changing what was found at a place of the open back, and walking from one to the next.
 * Not here: showing it (`seals.js`, `tight.js`); what follows, which the bench says.
 *
 * @import { Inspection, PlaceLook, PlaceView } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { asked } from "../view/links.js";

/** @param {Inspection} draft @param {string} place @returns {PlaceLook} */
function lookOf(draft, place) {
  let look = draft.light_tight.places.find((one) => one.place === place);
  if (!look) {
    look = { place, feel: "", residue: "", lamp: "", length: "", length_mm: null, thickness: "", thickness_mm: null };
    draft.light_tight.places.push(look);
  }
  return look;
}

/** @param {Hand} hand @param {string} place @param {"feel" | "residue" | "lamp" | "length" | "thickness"} what @returns {string} As entered, also where it is still on its way. */
export const enteredAt = (hand, place, what) => hand.inspection.light_tight.places.find((one) => one.place === place)?.[what] ?? "";

/** @param {Hand} hand @param {string} place @param {string} what */
export function pathOf(hand, place, what) {
  return ["light_tight", "places", hand.inspection.light_tight.places.findIndex((one) => one.place === place), what];
}

/** @param {Hand} hand @param {string} place @param {"feel" | "residue" | "lamp" | "length" | "thickness"} what @param {string} value */
export function enter(hand, place, what, value) {
  const path = pathOf(hand, place, what);
  return path[2] === -1 ? hand.apply((draft) => { lookOf(draft, place)[what] = value; }, what) : hand.change(path, value);
}

/** The place in hand on this page; empty for the first. */
let chosen = asked.get("place") ?? "";

/** @param {Hand} hand @param {string} key */
export function choose(hand, key) {
  chosen = key;
  hand.draw();
}

/** @param {readonly PlaceView[]} places @returns {{ place: PlaceView | undefined, next: PlaceView | undefined }} */
export function walk(places) {
  const at = Math.max(0, places.findIndex((one) => one.key === chosen));
  return { place: places[at], next: places[at + 1] };
}
