/**
 * What a clip's file says about its frames: its boxes are walked over without reading what lies between, and only the one with
 * the list of frames is read.
 * Not here: what stands in a box (the bench); the frames' pictures (`frames.js`).
 *
 * @import { Bench } from "../bench/client.js"
 * @import { Movie } from "../bench/shapes.js"
 */

import { CaptureError } from "./error.js";

/** What a file chooser should offer. */
export const CLIPS = "video/*";
/** Bytes of a box that tell its kind and size. */
const HEAD = 16;
/** Largest list of frames that is read [bytes], and most boxes that are walked over. */
const MOST_LIST = 64 * 1024 * 1024;
const MOST_BOXES = 10_000;

/** @param {Blob} file @param {number} from @param {number} to */
async function part(file, from, to) {
  try {
    return new Uint8Array(await file.slice(from, to).arrayBuffer());
  } catch {
    throw new CaptureError("The clip could not be read. Choose it again; it may have been moved.");
  }
}

/**
 * @param {File} file
 * @param {Bench} bench
 * @returns {Promise<Movie>}
 */
export async function readMovie(file, bench) {
  let at = 0;
  for (let count = 0; count < MOST_BOXES && at < file.size; count += 1) {
    const box = await bench.movieBox(await part(file, at, at + HEAD), at, file.size);
    if (box.kind === "moov") {
      if (box.size > MOST_LIST) {
        throw new CaptureError("The list of frames in this clip is longer than any clip of a camera has. Choose the original.");
      }
      return bench.readMovie(await part(file, box.start, box.start + box.size));
    }
    at = box.start + box.size;
  }
  throw new CaptureError("This file has no list of frames: it is no MP4 or MOV, or it was cut off. Choose the clip as the phone's camera made it.");
}
