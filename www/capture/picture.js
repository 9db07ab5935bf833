/**
 * Taking a picture in: shrunk, and drawn anew, which leaves every piece of metadata behind (place, time, camera, thumbnail).
 * Not here: keeping it (`store`); measuring anything in it, which wants the original.
 *
 * @import { PictureFile } from "./opening.js"
 */

import { CaptureError } from "./error.js";
import { notOpened, notTooLong, pixelsOf } from "./opening.js";

/** Longest side of what is kept [px]. */
const LONGEST = 1600;
const QUALITY = 0.85;
/** Largest file that is opened [MB]. */
const MOST = 25;

/**
 * @param {PictureFile} file
 * @returns {Promise<{ blob: Blob, width: number, height: number }>} A JPEG.
 */
export async function shrink(file) {
  notTooLong(file, MOST);
  const bitmap = await decode(file);
  try {
    const scale = Math.min(1, LONGEST / Math.max(bitmap.width, bitmap.height));
    const width = Math.max(1, Math.round(bitmap.width * scale));
    const height = Math.max(1, Math.round(bitmap.height * scale));
    return { blob: await redraw(bitmap, width, height), width, height };
  } finally {
    bitmap.close();
  }
}

/**
 * @param {PictureFile} file
 * @returns {Promise<ImageBitmap>}
 */
async function decode(file) {
  try {
    return await pixelsOf(file);
  } catch {
    // A picture too large for the phone may still be opened small; below, the longest side counts.
    try {
      return await createImageBitmap(file, { resizeWidth: LONGEST, resizeQuality: "high" });
    } catch {
      throw await notOpened(file);
    }
  }
}

/**
 * @param {ImageBitmap} bitmap
 * @param {number} width
 * @param {number} height
 * @returns {Promise<Blob>}
 */
function redraw(bitmap, width, height) {
  const canvas = document.createElement("canvas");
  canvas.width = width;
  canvas.height = height;
  const context = canvas.getContext("2d");
  if (!context) {
    throw new CaptureError("The phone has no memory left for this picture. Close other pages and try again.");
  }
  // JPEG knows no transparency: what shows through is paper, not black.
  context.fillStyle = "#fff";
  context.fillRect(0, 0, width, height);
  context.imageSmoothingQuality = "high";
  context.drawImage(bitmap, 0, 0, width, height);
  return new Promise((resolve, reject) => {
    canvas.toBlob(
      (blob) => (blob ? resolve(blob) : reject(new CaptureError("The picture could not be kept. Choose another."))),
      "image/jpeg",
      QUALITY,
    );
  });
}
