/**
 * Two photos of the same view as pixels of the same size, for a comparison of their light.
 * Not here: what is found in them, which the bench says; pictures that are kept (`picture.js`).
 */

import { CaptureError } from "./error.js";

/** Longest side that is handed on [px]: more shows no weaker spot, and less would smear small ones. */
const LONGEST = 2400;

/** @param {Blob} file @returns {Promise<ImageBitmap>} */
async function decode(file) {
  try {
    return await createImageBitmap(file);
  } catch {
    throw new CaptureError("This picture cannot be opened. Choose a JPEG or PNG.");
  }
}

/** @param {ImageBitmap} bitmap @param {number} width @param {number} height @returns {ImageData} */
function pixels(bitmap, width, height) {
  const context = new OffscreenCanvas(width, height).getContext("2d", { willReadFrequently: true });
  if (!context) {
    throw new CaptureError("The phone has no memory left for this picture. Close other pages and try again.");
  }
  context.imageSmoothingQuality = "high";
  context.drawImage(bitmap, 0, 0, width, height);
  return context.getImageData(0, 0, width, height);
}

/**
 * @param {Blob} first @param {Blob} second
 * @returns {Promise<[ImageData, ImageData]>} Of the same size.
 */
export async function pair(first, second) {
  const [a, b] = [await decode(first), await decode(second)];
  try {
    if (a.width !== b.width || a.height !== b.height) {
      throw new CaptureError(`Both photos must be of the same size: one is ${a.width} × ${a.height}, the other ${b.width} × ${b.height}. Take both with the same camera, held the same way.`);
    }
    const scale = Math.min(1, LONGEST / Math.max(a.width, a.height));
    const scaled = (/** @type {number} */ side) => Math.max(1, Math.round(side * scale));
    const [width, height] = [scaled(a.width), scaled(a.height)];
    return [pixels(a, width, height), pixels(b, width, height)];
  } finally {
    a.close();
    b.close();
  }
}
