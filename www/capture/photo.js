/**
 * A photo to be measured: its original bytes, which hold how it was exposed, and its pixels, upright and at full size.
 * Not here: what is in them (the bench); pictures that are only kept (`picture.js`).
 *
 * @import { Bench } from "../bench/client.js"
 * @import { PatchSums, PhotoHead, PhotoPatch } from "../bench/shapes.js"
 */

import { CaptureError } from "./error.js";
import { bytesOf, called, notTooLong, pixelsOf } from "./opening.js";

/** What a file chooser should offer. */
export const PHOTOS = "image/*";
/** Largest file [MB] and picture [pixels] that are opened. */
const [MOST, MOST_PIXELS] = [80, 120_000_000];
/** Rows that are read at a time. */
const ROWS = 256;

/** A photo that was chosen. */
export class PhotoFile {
  /**
   * @param {File} file
   * @param {Uint8Array} bytes
   * @param {PhotoHead} head
   * @param {ImageBitmap | null} bitmap `null` where the browser cannot open it.
   */
  constructor(file, bytes, head, bitmap) {
    this.name = file.name;
    this.file = file;
    this.bytes = bytes;
    this.head = head;
    this.bitmap = bitmap;
  }

  /** @returns {PhotoPatch} The middle, a quarter of the picture each way. */
  middle() {
    const { width = 1, height = 1 } = this.bitmap ?? {};
    const [w, h] = [Math.max(1, Math.round(width / 4)), Math.max(1, Math.round(height / 4))];
    return { x: Math.floor((width - w) / 2), y: Math.floor((height - h) / 2), width: w, height: h };
  }

  /** @param {PhotoPatch} patch @param {Bench} bench @returns {Promise<PatchSums | null>} Its light, strip by strip. */
  async sums(patch, bench) {
    if (!this.bitmap) {
      return null;
    }
    const rows = Math.min(ROWS, patch.height);
    const canvas = new OffscreenCanvas(patch.width, rows);
    const drawing = canvas.getContext("2d", { willReadFrequently: true });
    if (!drawing) {
      throw new CaptureError("This browser gives no access to the picture's pixels.");
    }
    /** @type {PatchSums} */
    let sums = { patch, light: [], counts: [], clipped: 0, black: 0 };
    for (let top = patch.y; top < patch.y + patch.height; top += rows) {
      const height = Math.min(rows, patch.y + patch.height - top);
      drawing.drawImage(this.bitmap, patch.x, top, patch.width, height, 0, 0, patch.width, height);
      const { data } = drawing.getImageData(0, 0, patch.width, height);
      sums = await bench.photoStrip(sums, data, patch.width, patch.x, top);
    }
    return sums;
  }

  /** Gives its memory back. */
  close() {
    this.bitmap?.close();
  }
}

/**
 * @param {File} file
 * @param {Bench} bench
 * @returns {Promise<PhotoFile>}
 */
export async function openPhoto(file, bench) {
  notTooLong(file, MOST);
  const bytes = await bytesOf(file);
  const head = await bench.photoHead(bytes);
  if (head.width_px * head.height_px > MOST_PIXELS) {
    throw new CaptureError(`${called(file)} has ${Math.round((head.width_px * head.height_px) / 1e6)} million pixels, and at most ${MOST_PIXELS / 1e6} million are opened. Take it in the phone's usual size.`);
  }
  const bitmap = await pixelsOf(file).catch(() => null);
  return new PhotoFile(file, bytes, head, bitmap);
}
