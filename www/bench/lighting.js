/**
 * What the bench is asked about light that is already there: photos and the phone that took them, sun and sky, the screen.
 * Not here: takes of a shutter (`measuring.js`), everything about an inspection (`client.js`).
 *
 * @import { CalibrationEntry, CityChoice, Dose, DoseAsked, LampView, LiveView, PatchSums, PhoneCalibration, PhotoHead, PhotoLight, SunView } from "./shapes.js"
 */

import { Measuring } from "./measuring.js";

/** Questions about light. */
export class Lighting extends Measuring {
  /** @param {Uint8Array} bytes Of the original file. @returns {Promise<PhotoHead>} */
  photoHead(bytes) {
    return this.messenger.ask("photo_head", [bytes]);
  }

  /**
   * @param {PatchSums} before
   * @param {Uint8ClampedArray} rgba
   * @param {number} width
   * @param {number} left
   * @param {number} top
   * @returns {Promise<PatchSums>} With the strip.
   */
  photoStrip(before, rgba, width, left, top) {
    return this.messenger.ask("photo_strip", [before, rgba, width, left, top], [rgba.buffer]);
  }

  /**
   * @param {Uint8Array} bytes
   * @param {PatchSums | null} patch `null` where the picture could not be opened.
   * @param {PhoneCalibration | null} calibration
   * @returns {Promise<PhotoLight>}
   */
  photoLight(bytes, patch, calibration) {
    return this.messenger.ask("photo_light", [bytes, patch, calibration]);
  }

  /** @param {PatchSums} before @param {PatchSums} now With the exposure locked. @returns {Promise<LiveView>} */
  patchDifference(before, now) {
    return this.messenger.ask("patch_difference", [before, now]);
  }

  /**
   * @param {CalibrationEntry[]} entries
   * @param {string} doubt Of the trusted meter in stops, as typed.
   * @param {string} phone
   * @param {string} against What was trusted, in the person's words.
   * @returns {Promise<PhoneCalibration>}
   */
  calibratePhone(entries, doubt, phone, against) {
    return this.messenger.ask("calibrate_phone", [entries, doubt, phone, against, new Date().toISOString()]);
  }

  /** @param {PhoneCalibration[]} entries Of one phone and lens, the oldest first. @returns {Promise<string[]>} What they say of one another. */
  calibrationHistory(entries) {
    return this.messenger.ask("calibration_history", [entries]);
  }

  /** @returns {Promise<CityChoice[]>} Large cities. */
  cities() {
    return this.messenger.ask("cities", []);
  }

  /**
   * @param {Date} at
   * @param {string} latitude In degrees, as typed.
   * @param {string} longitude
   * @param {string} sky Key.
   * @returns {Promise<SunView>}
   */
  sunView(at, latitude, longitude, sky) {
    return this.messenger.ask("sun_view", [at.toISOString(), -at.getTimezoneOffset(), latitude, longitude, sky]);
  }

  /**
   * @param {string} white Full white's EV by a trusted meter, as typed; empty where nobody has read it.
   * @param {string} doubt Of that meter in stops, as typed.
   * @param {string} kind Key.
   * @param {number} width Device pixels.
   * @param {number} height
   * @returns {Promise<LampView>}
   */
  lampView(white, doubt, kind, width, height) {
    return this.messenger.ask("lamp_view", [white, doubt, kind, width, height]);
  }

  /**
   * @param {DoseAsked} asked
   * @returns {Promise<Dose>} How long film may lie in that light.
   */
  dose(asked) {
    return this.messenger.ask("dose", [asked]);
  }
}
