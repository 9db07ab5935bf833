/**
 * Reading photos of a strip by the bench, and keeping what was read in the camera's record, with the picture where it is wanted.
 * Not here: the page (`strip.js`); opening a photo (`strip-photo.js`).
 *
 * @import { Bench } from "../bench/client.js"
 * @import { RollFrame, RollWall } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 * @import { StripPhoto } from "./strip-photo.js"
 */

import { shrink } from "../capture/picture.js";
import { putPhoto } from "../store/photos.js";
import { inShares, lightOf } from "./strip-photo.js";

/** The photos of a wall, in the order in which the bench takes them. */
export const SLOTS = [
  { key: "main", words: "the wall", help: "needed" },
  { key: "minus", words: "one stop less", help: "the film's contrast" },
  { key: "plus", words: "one stop more", help: "the film's contrast" },
  { key: "turned", words: "camera upside down", help: "tells the wall" },
];

/** @param {Bench} bench @param {StripPhoto} photo @param {string} film @returns {Promise<{ frame: RollFrame, taken: number[], refusal: string }>} */
export async function readBlank(bench, photo, film) {
  const { light, corners, masked } = await lightOf(bench, photo);
  const read = await bench.readBlank(light, corners, film, masked);
  return { frame: read.frame, refusal: read.refusal, taken: read.edges_found ? inShares(read.corners_px, light) : [] };
}

/** @param {Bench} bench @param {Map<string, StripPhoto>} photos @param {string} travel @returns {Promise<RollWall>} */
export async function readWall(bench, photos, travel) {
  const strips = [];
  for (const { key } of SLOTS) {
    const photo = photos.get(key);
    if (!photo) {
      strips.push(new Float32Array());
      continue;
    }
    const { light, corners } = await lightOf(bench, photo);
    strips.push(await bench.layOutWall(light, corners));
  }
  const wall = await bench.readWall(strips, travel);
  return { ...wall, sources: SLOTS.map(({ key }) => photos.get(key)?.file.name ?? "") };
}

/** @param {Hand} hand @param {RollFrame} frame @param {File | null} picture To be kept beside it. */
export async function keepBlank(hand, frame, picture) {
  const kept = picture ? await shrink(picture) : null;
  const id = kept ? crypto.randomUUID() : "";
  if (kept) {
    await putPhoto({ id, blob: kept.blob });
  }
  await hand.apply((draft) => {
    if (kept) {
      draft.photos.push({ id, taken: frame.at, media_type: kept.blob.type, width_px: kept.width, height_px: kept.height, size_bytes: kept.blob.size, on_sheet: false, data: null });
    }
    draft.test_roll.frames.push({ ...frame, photo: id });
    // Strips are here: the roll was exposed, whether that was said or not.
    draft.test_roll.exposed ||= frame.at;
  }, "frame of the test roll");
}

/** @param {Hand} hand @param {RollWall} wall @param {string} time Marked, or empty. */
export const keepWall = (hand, wall, time) => hand.apply((draft) => {
  draft.test_roll.walls.push({ ...wall, time });
  draft.test_roll.exposed ||= wall.at;
}, "wall of the test roll");
