/**
 * The tolerance that marked times or marked f-numbers are held against: one of the usual ones, or one's own.
 * Not here: which ones there are, and what keeps them (the bench).
 *
 * @import { Choice } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { refusal } from "../view/notice.js";

/** @param {Hand} hand @param {"shutter" | "aperture"} part Of the inspection. @param {readonly Choice[]} options The usual one first. */
export function toleranceOf(hand, part, options) {
  const { tolerance, own_tolerance: own } = hand.inspection[part];
  const path = (/** @type {string} */ name) => [part, name];
  return html`
    ${choice({ legend: "Tolerance", name: "tolerance", layout: "wide", value: tolerance || (options[0]?.key ?? ""), options, pick: (key) => hand.change(path("tolerance"), key) })}
    ${refusal(hand.wrongAt(path("tolerance")))}
    ${tolerance === "own"
      ? field({ label: "Your own tolerance, in stops", id: "own-tolerance", decimal: true, value: hand.textAt(path("own_tolerance"), own), wrong: hand.wrongAt(path("own_tolerance")), type: (typed) => hand.change(path("own_tolerance"), typed) })
      : nothing}`;
}
