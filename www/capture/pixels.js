/**
 * A picture to be measured: opened from its original file, read strip by strip at its own size, averaged down by the bench in light.
 * The pixels are let go as soon as they are read. Not here: pictures that are only kept (`picture.js`); what is found in them (the bench).
 *
 * @import { Bench } from "../bench/client.js"
 * @import { Hole, PictureAbout } from "../bench/shapes.js"
 */

import { CaptureError } from "./error.js";
import { bytesOf, called, notOpened, notTooLong, pixelsOf } from "./opening.js";

/** Largest file that is opened [MB]. */
const MOST = 80;
/** Pixels of a strip: what is held at once. */
const STRIP = 2_000_000;
/** Longest side of what is shown while it is looked at [px]. */
const PREVIEW = 900;
/** Longest side where no detail is needed [px]. */
const SMALL = 700;

/** @typedef {{ light: Float32Array, width: number, height: number, factor: number }} Reduced */

/** A picture whose pixels are there until `close`. */
export class Opened {
  /** @param {ImageBitmap} bitmap @param {PictureAbout} about @param {File} file */
  constructor(bitmap, about, file) {
    this.bitmap = bitmap;
    this.about = about;
    this.name = file.name;
  }

  /** @param {number} left @param {number} top @param {number} width @param {number} height @returns {Uint8ClampedArray} */
  part(left, top, width, height) {
    const canvas = Object.assign(document.createElement("canvas"), { width, height });
    const pen = canvas.getContext("2d", { willReadFrequently: true, colorSpace: "srgb" });
    if (!pen) {
      throw new CaptureError(`“${this.name}”: the phone has no memory left for this picture. Close other pages and try again.`);
    }
    pen.drawImage(this.bitmap, left, top, width, height, 0, 0, width, height);
    return pen.getImageData(0, 0, width, height).data;
  }

  /** Its size as it stands. */
  get size() {
    return { width: this.bitmap.width, height: this.bitmap.height };
  }

  /** @param {number} quarters Clockwise. */
  async turn(quarters) {
    const { width, height } = this.bitmap;
    if (quarters % 4 === 0) {
      return;
    }
    const lying = quarters % 2 === 1;
    const canvas = Object.assign(document.createElement("canvas"), lying ? { width: height, height: width } : { width, height });
    const pen = canvas.getContext("2d", { colorSpace: "srgb" });
    if (!pen) {
      throw new CaptureError(`“${this.name}”: the phone has no memory left to turn this picture. Close other pages and try again.`);
    }
    pen.translate(canvas.width / 2, canvas.height / 2);
    pen.rotate((quarters * Math.PI) / 2);
    pen.drawImage(this.bitmap, -width / 2, -height / 2);
    const turned = await createImageBitmap(canvas);
    this.bitmap.close();
    this.bitmap = turned;
  }

  /** @returns {ImageData} Small, for what needs no detail. */
  small() {
    const scale = Math.min(1, SMALL / Math.max(this.bitmap.width, this.bitmap.height));
    const canvas = Object.assign(document.createElement("canvas"), { width: Math.max(1, Math.round(this.bitmap.width * scale)), height: Math.max(1, Math.round(this.bitmap.height * scale)) });
    const pen = canvas.getContext("2d", { willReadFrequently: true, colorSpace: "srgb" });
    if (!pen) {
      throw new CaptureError(`“${this.name}”: the phone has no memory left for this picture. Close other pages and try again.`);
    }
    pen.drawImage(this.bitmap, 0, 0, canvas.width, canvas.height);
    return pen.getImageData(0, 0, canvas.width, canvas.height);
  }

  /** @param {Bench} bench @param {number} [by] How often; as openings want it where it is not said. @returns {Promise<Reduced>} */
  async reduced(bench, by) {
    const { width, height } = this.bitmap;
    const factor = by ?? (await bench.pictureFactor(width, height));
    const [columns, rows] = [Math.floor(width / factor), Math.floor(height / factor)];
    const light = new Float32Array(columns * rows);
    // Whole squares to a strip, so that each can be averaged by itself.
    const each = Math.max(1, Math.floor(STRIP / width / factor));
    for (let row = 0; row < rows; row += each) {
      const high = Math.min(each, rows - row);
      light.set(await bench.pictureStrip(this.part(0, row * factor, width, high * factor), width, high * factor, factor), row * columns);
    }
    return { light, width: columns, height: rows, factor };
  }

  /** @param {Hole} hole @returns {Uint8ClampedArray} The part that it asks for, at its own size. */
  field({ left, top, width, height }) {
    return this.part(left, top, width, height);
  }

  /** @returns {Promise<string>} An address for looking at it, small. */
  async preview() {
    const scale = Math.min(1, PREVIEW / Math.max(this.bitmap.width, this.bitmap.height));
    const canvas = Object.assign(document.createElement("canvas"), { width: Math.round(this.bitmap.width * scale), height: Math.round(this.bitmap.height * scale) });
    canvas.getContext("2d")?.drawImage(this.bitmap, 0, 0, canvas.width, canvas.height);
    const blob = await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg", 0.8));
    return blob ? URL.createObjectURL(blob) : "";
  }

  close() {
    this.bitmap.close();
  }
}

/**
 * Opens a picture. What cannot be measured is refused with its name and what to do.
 *
 * @param {File} file
 * @param {Bench} bench
 * @returns {Promise<Opened>}
 */
export async function openPicture(file, bench) {
  notTooLong(file, MOST);
  const about = await bench.pictureAbout(await bytesOf(file));
  if (about.width_px > 0) {
    try {
      await bench.pictureFactor(about.width_px, about.height_px);
    } catch {
      throw new CaptureError(`${called(file)} has ${Math.round((about.width_px * about.height_px) / 1e6)} megapixels, more than can be measured here. Set the camera to 12 megapixels and take it again.`);
    }
  }
  try {
    return new Opened(await pixelsOf(file), about, file);
  } catch {
    throw await notOpened(file);
  }
}
