/**
 * The way through the round: its steps in the order that the person prefers, without those left out; which step is next, and how
 * long the rest takes. The choice is remembered for every camera.
 * Not here: the steps themselves and how far each is, which the bench says; the page that shows them (`steps.js`).
 *
 * @import { StepView, View } from "../bench/shapes.js"
 */

import * as settings from "../store/settings.js";
import { to } from "../view/links.js";

/** @typedef {{ order: string[], without: string[] }} Preference Keys of steps: those that were moved, in order; those left out. */

const NAME = "round";
/** @type {Preference} */
const USUAL = { order: [], without: [] };

/** @returns {Promise<Preference>} */
export async function preferred() {
  return { ...USUAL, ...(await settings.get(NAME).catch(() => null)) };
}

/** @param {Preference} preference */
export const prefer = (preference) => settings.set(NAME, preference);

/** @param {View} view @param {Preference} preference @returns {StepView[]} Every step in the preferred order, also those left out. */
export function inOrder(view, { order }) {
  const place = (/** @type {StepView} */ step) => {
    const at = order.indexOf(step.key);
    return at < 0 ? order.length + view.round.indexOf(step) : at;
  };
  return order.length === 0 ? view.round : [...view.round].sort((a, b) => place(a) - place(b));
}

/** @param {View} view @param {Preference} preference @returns {StepView[]} The steps to be taken. */
export const itinerary = (view, preference) => inOrder(view, preference).filter((step) => !preference.without.includes(step.key));

/** @param {readonly StepView[]} steps @param {string} [from] Key of a step. @returns {StepView | undefined} The first after it that is not done; else the first of all. */
export function nextOf(steps, from = "") {
  const later = steps.slice(steps.findIndex((step) => step.key === from) + 1);
  return later.find((step) => !step.done) ?? steps.find((step) => !step.done && step.key !== from);
}

/** @param {readonly StepView[]} steps @returns {string} `about 4 minutes left`. */
export function leftOf(steps) {
  const seconds = steps.reduce((sum, step) => sum + step.left_s, 0);
  const minutes = Math.ceil(seconds / 60);
  return seconds === 0 ? "nothing left" : seconds <= 50 ? "less than a minute left" : minutes === 1 ? "about a minute left" : `about ${minutes} minutes left`;
}

/** @param {string} step Key. @returns {string} The address of its page, within the round. */
export function pageOf(step) {
  switch (step) {
    case "identity":
      return to("camera", { r: step });
    case "marked-times":
      return to("listen", { r: step });
    case "meter-run":
      return to("meter", { r: step });
    default:
      return to("round", { area: step, r: step });
  }
}
