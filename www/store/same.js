/**
 * Other inspections of the same camera: those whose serial number reads alike, by the same maker.
 * Not here: laying two side by side, which the bench does.
 *
 * @import { Summary } from "./database.js"
 */

import { all } from "./summaries.js";

/** @param {string} text Letters and figures alone: how a serial number is spaced says nothing. */
const plain = (text) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, "");

/**
 * @param {string} key Of the camera in hand, which is left out.
 * @param {{ maker: string, model: string, serial: string }} camera
 * @returns {Promise<Summary[]>} Newest first; none where there is no serial number.
 */
export async function others(key, camera) {
  const serial = plain(camera.serial);
  if (!serial) {
    return [];
  }
  const alike = (/** @type {Summary} */ one) => plain(one.camera.serial) === serial && plain(one.camera.maker) === plain(camera.maker);
  return (await all()).filter((one) => one.key !== key && alike(one));
}
