/**
 * The photos of openings at hand: each is opened, measured about the tap and let go; only a small view and the way to its file stay.
 * Not here: the record (`openings.js`); reading pixels (`capture`).
 *
 * @import { Bench } from "../bench/client.js"
 * @import { FoundOpening, OpeningShot } from "../bench/shapes.js"
 */

import { keepAwake } from "../capture/awake.js";
import { openPicture } from "../capture/pixels.js";

/** @typedef {{ x: number, y: number }} Tap Shares of the width and of the height. */
/** @typedef {{ file: File, address: string }} AtHand */

/** @type {Map<string, AtHand>} By what the record knows of the photo. */
const atHand = new Map();

/** @param {Pick<OpeningShot, "source" | "taken_ms">} shot */
const nameOf = ({ source, taken_ms }) => `${source} ${taken_ms}`;

/** @param {Pick<OpeningShot, "source" | "taken_ms">} shot @returns {AtHand | undefined} */
export const fileOf = (shot) => atHand.get(nameOf(shot));

/**
 * Measures one photo.
 *
 * @param {Bench} bench
 * @param {File} file
 * @param {Tap} tap
 * @param {string} shown The marked f-number, where it is known.
 * @param {readonly string[]} dial
 * @returns {Promise<FoundOpening & { address: string }>}
 */
export async function measureFile(bench, file, tap, shown, dial) {
  const picture = await openPicture(file, bench);
  try {
    const address = await picture.preview();
    const reduced = await picture.reduced(bench);
    const found = await bench.findOpening(reduced, { x: tap.x * reduced.width, y: tap.y * reduced.height }, shown, dial);
    const opening = { ...found.opening, source: file.name, taken_ms: picture.about.taken_ms ?? file.lastModified };
    const before = fileOf(opening);
    if (before) {
      URL.revokeObjectURL(before.address);
    }
    atHand.set(nameOf(opening), { file, address });
    return { ...found, opening, address };
  } finally {
    picture.close();
  }
}

/**
 * Measures many, one after another; what cannot be is said and the others go on.
 *
 * @param {Bench} bench
 * @param {readonly File[]} files
 * @param {Tap} tap
 * @param {readonly string[]} dial
 * @param {(done: number) => void} progress
 * @param {AbortSignal} signal
 * @returns {Promise<{ openings: OpeningShot[], refused: string[] }>} Guessed, in the order they were taken.
 */
export async function measureFiles(bench, files, tap, dial, progress, signal) {
  const openings = [];
  const refused = [];
  const sleep = keepAwake();
  for (const [i, file] of files.entries()) {
    if (signal.aborted) {
      break;
    }
    progress(i);
    try {
      openings.push((await measureFile(bench, file, tap, "", dial)).opening);
    } catch (error) {
      refused.push(error instanceof Error ? error.message : `“${file.name}”: ${String(error)}`);
    }
  }
  sleep();
  return { openings: await bench.guessOpenings(openings, dial), refused };
}
