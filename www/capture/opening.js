/**
 * What every picture's file goes through first: not too long, readable, its pixels upright and as sRGB, and a sentence where it cannot
 * be opened. Not here: what is done with it (`picture.js` keeps it, `pixels.js` and `photo.js` measure it).
 */

import { CaptureError } from "./error.js";

const MEGABYTE = 1024 * 1024;

/** @typedef {Blob & { name?: string }} PictureFile */

/** @param {PictureFile} file How it is called in a sentence: of several, which one it is has to be said. */
export const called = ({ name }) => (name ? `“${name}”` : "This picture");

/** Refuses a file that is too long. @param {PictureFile} file @param {number} most [MB] */
export function notTooLong(file, most) {
  if (file.size > most * MEGABYTE) {
    throw new CaptureError(`${called(file)} is ${Math.ceil(file.size / MEGABYTE)} MB long, and at most ${most} MB are taken. Set the camera to 12 megapixels and take it again.`);
  }
}

/** @param {PictureFile} file @returns {Promise<Uint8Array>} */
export async function bytesOf(file) {
  try {
    return new Uint8Array(await file.arrayBuffer());
  } catch {
    throw new CaptureError(`${called(file)} could not be read. Choose it again; it may have been moved.`);
  }
}

/** Its pixels; a smaller size would average codes and not light. Rejects what the browser cannot open. @param {PictureFile} file */
export const pixelsOf = (file) => createImageBitmap(file, { imageOrientation: "from-image", colorSpaceConversion: "default" });

/** Why the browser could not open it. @param {PictureFile} file @returns {Promise<CaptureError>} */
export async function notOpened(file) {
  return new CaptureError(
    (await isHeic(file))
      ? `${called(file)} is HEIC, which this browser cannot open. Set the phone's camera to “most compatible” and take it again.`
      : `${called(file)} cannot be opened: it is damaged, was not copied to its end, or is no picture. Choose it again as JPEG or PNG, or take it anew.`,
  );
}

/** By its name, its type or how it begins (ISO/IEC 14496-12, the box `ftyp`; brands from memory). @param {PictureFile} file */
async function isHeic(file) {
  if (/\.hei[cf]$/i.test(file.name ?? "") || /hei[cf]/i.test(file.type)) {
    return true;
  }
  const head = new TextDecoder("latin1").decode(await file.slice(4, 12).arrayBuffer().catch(() => new ArrayBuffer(0)));
  return /^ftyp(hei|hev|mif1|msf1)/.test(head);
}
