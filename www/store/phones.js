/**
 * Phones that were calibrated: each calibration with its day, by phone and lens; the latest counts.
 * Not here: how one is worked out (the bench); the photos, which are not kept.
 *
 * @import { PhoneCalibration } from "../bench/shapes.js"
 */

import * as settings from "./settings.js";

const NAME = "phones";

/** @returns {Promise<PhoneCalibration[]>} All of them, the oldest first. */
export async function calibrations() {
  return (await settings.get(NAME)) ?? [];
}

/** @param {string} phone @returns {Promise<PhoneCalibration[]>} Those of one phone and lens, the oldest first. */
export async function of(phone) {
  return (await calibrations()).filter((one) => one.phone === phone);
}

/** @param {PhoneCalibration} made */
export async function keep(made) {
  await settings.set(NAME, [...(await calibrations()), made]);
}

/** @param {PhoneCalibration} one */
export async function throwAway(one) {
  await settings.set(NAME, (await calibrations()).filter((other) => other.phone !== one.phone || other.at !== one.at));
}
