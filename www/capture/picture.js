/**
 * Taking a picture in: shrunk, and drawn anew, which leaves every piece of metadata behind (place, time, camera, thumbnail).
 * Not here: keeping it (`store`); measuring anything in it, which wants the original.
 */

import { CaptureError } from "./error.js";

/** Longest side of what is kept [px]. */
const LONGEST = 1600;
const QUALITY = 0.85;
/** Largest file that is opened [bytes]. */
const MOST = 25 * 1024 * 1024;

/**
 * @param {Blob & { name?: string }} file
 * @returns {Promise<{ blob: Blob, width: number, height: number }>} A JPEG.
 */
export async function shrink(file) {
  if (file.size > MOST) {
    const given = Math.ceil(file.size / (1024 * 1024));
    throw new CaptureError(`This picture is ${given} MB long, and at most 25 MB are taken. Choose a smaller one.`);
  }
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
 * @param {Blob & { name?: string }} file
 * @returns {Promise<ImageBitmap>}
 */
async function decode(file) {
  try {
    return await createImageBitmap(file);
  } catch {
    // A picture too large for the phone may still be opened small; below, the longest side counts.
    try {
      return await createImageBitmap(file, { resizeWidth: LONGEST, resizeQuality: "high" });
    } catch {
      throw new CaptureError(
        (await isHeic(file))
          ? "This picture is HEIC, which this browser cannot open. Choose it as JPEG: set the phone's camera to “most compatible”."
          : "This picture cannot be opened. Choose a JPEG or PNG.",
      );
    }
  }
}

/** @param {Blob & { name?: string }} file */
async function isHeic(file) {
  if (/\.hei[cf]$/i.test(file.name ?? "") || /hei[cf]/i.test(file.type)) {
    return true;
  }
  const head = new TextDecoder("latin1").decode(await file.slice(4, 12).arrayBuffer().catch(() => new ArrayBuffer(0)));
  return /^ftyp(hei|hev|mif1|msf1)/.test(head);
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
