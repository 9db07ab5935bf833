/**
 * One photo of a strip on the page: opened, shown small with the frame's corners on it, turned, averaged down for the bench, let go.
 * Not here: what is read from it (`strip.js`); reading pixels (`capture`).
 *
 * @import { Bench } from "../bench/client.js"
 */

import { openPicture } from "../capture/pixels.js";

/** Where the corners stand before anybody moved them: a frame in the middle of the photo, in shares. */
const FIRST = [0.14, 0.24, 0.86, 0.24, 0.86, 0.76, 0.14, 0.76];

/**
 * @typedef {object} StripPhoto
 * @property {File} file
 * @property {number} turns Quarters, clockwise.
 * @property {string} address Of the small view.
 * @property {{ width: number, height: number }} size Of the picture, turned.
 * @property {number[]} corners x and y by turns, in shares of the turned picture.
 * @property {number[]} taken As the bench took them; empty before.
 */

/** @param {Bench} bench @param {File} file @param {number} turns */
async function opened(bench, file, turns) {
  const picture = await openPicture(file, bench);
  await picture.turn(turns);
  return picture;
}

/**
 * @param {Bench} bench
 * @param {File} file
 * @param {number} turns
 * @param {readonly number[]} [corners] Of a photo before, taken the same way.
 * @returns {Promise<StripPhoto>}
 */
export async function takeIn(bench, file, turns, corners = FIRST) {
  const picture = await opened(bench, file, turns);
  try {
    return { file, turns, address: await picture.preview(), size: picture.size, corners: [...corners], taken: [] };
  } finally {
    picture.close();
  }
}

/** @param {readonly number[]} corners In shares. @param {{ width: number, height: number }} size */
const inPixels = (corners, { width, height }) => new Float64Array(corners.map((value, i) => value * (i % 2 === 0 ? width : height)));

/**
 * The photo's light, averaged down as the corners want it, and the corners in its pixels.
 *
 * @param {Bench} bench
 * @param {StripPhoto} photo
 */
export async function lightOf(bench, photo) {
  const picture = await opened(bench, photo.file, photo.turns);
  try {
    const factor = await bench.filmFactor(inPixels(photo.corners, photo.size));
    const light = await picture.reduced(bench, factor);
    const small = picture.small();
    const masked = await bench.filmMasked(small.data, small.width, small.height, inPixels(photo.corners, small)).catch(() => false);
    return { light, corners: inPixels(photo.corners, light), masked };
  } finally {
    picture.close();
  }
}

/** @param {readonly number[]} corners In pixels of the averaged picture. @param {{ width: number, height: number }} size @returns {number[]} In shares. */
export const inShares = (corners, { width, height }) => corners.map((value, i) => value / (i % 2 === 0 ? width : height));

/** @param {StripPhoto | undefined} photo Lets its small view go. */
export function letGo(photo) {
  if (photo) {
    URL.revokeObjectURL(photo.address);
  }
}
