/**
 * The frames of a clip, one after another: played so slowly that none is left out, each read at its own size and handed to the
 * bench; what was missed all the same is looked for again.
 * Not here: when a frame was taken (`movie.js`); what its light means (the bench).
 *
 * @import { Bench } from "../bench/client.js"
 * @import { FrameTable, Movie } from "../bench/shapes.js"
 * @import { Gate } from "./frame-reader.js"
 */

import { CaptureError } from "./error.js";
import { Reader } from "./frame-reader.js";

/** Frames a second that any phone can show and read, and the slowest and quickest that a browser plays. */
const CALM = 16;
const [SLOWEST, QUICKEST] = [1 / 16, 1];
/** Frames that may wait for the bench. */
const WAITING = 6;
/** A frame that was asked for and does not come is left out after this time [ms]. */
const PATIENCE = 2000;

/**
 * @typedef {Gate & Asked} Wanted
 *
 * @typedef {object} Asked
 * @property {HTMLVideoElement} video Shows the clip while it is read.
 * @property {File} file
 * @property {Movie} movie
 * @property {Bench} bench
 * @property {(done: number, of: number) => void} progress
 * @property {AbortSignal} signal Stops it.
 */

/** @param {Movie} movie */
const undecodable = (movie) =>
  new CaptureError(`This browser cannot decode this clip (${movie.codec || "unknown coding"}). Film in the setting that is called “most compatible” or H.264, or have the clip converted, and choose it again.`);

/** @param {HTMLVideoElement} video @param {string} event @param {AbortSignal} signal @returns {Promise<unknown>} */
const once = (video, event, signal) =>
  new Promise((resolve, reject) => {
    video.addEventListener(event, resolve, { once: true, signal });
    video.addEventListener("error", () => reject(new Error("decoding")), { once: true, signal });
    signal.addEventListener("abort", () => reject(signal.reason), { once: true });
  });

/** @param {Reader} reader Plays it through. */
async function play(reader) {
  const { video, movie, signal } = reader.wanted;
  video.playbackRate = Math.min(QUICKEST, Math.max(SLOWEST, CALM / movie.file_rate_hz));
  const each = async (/** @type {number} */ _now, /** @type {VideoFrameCallbackMetadata} */ { mediaTime }) => {
    if (signal.aborted) {
      return;
    }
    reader.read(mediaTime);
    if (reader.waiting > WAITING) {
      video.pause();
      await reader.settled(0).catch(() => {});
      await video.play().catch(() => {});
    }
    video.requestVideoFrameCallback(each);
  };
  video.requestVideoFrameCallback(each);
  // Out of sight no frame is shown, and a clip that went on would lose them.
  const sight = () => (document.hidden ? video.pause() : void video.play().catch(() => {}));
  document.addEventListener("visibilitychange", sight, { signal });
  const ended = once(video, "ended", signal);
  await video.play();
  await ended;
  await reader.settled(0);
}

/** @param {Reader} reader Looks for what was left out. */
async function fill(reader) {
  const { video, movie, signal } = reader.wanted;
  const times = movie.frame_times_s;
  for (const [i, time] of times.entries()) {
    if (reader.seen.has(i)) {
      continue;
    }
    signal.throwIfAborted();
    const next = times[i + 1] ?? time + 1 / movie.file_rate_hz;
    const shown = new Promise((resolve) => video.requestVideoFrameCallback((_now, { mediaTime }) => resolve(mediaTime)));
    video.currentTime = (time + next) / 2;
    const at = await Promise.race([shown, new Promise((resolve) => setTimeout(() => resolve(null), PATIENCE))]);
    if (typeof at === "number") {
      reader.read(at);
    }
  }
  await reader.settled(0);
}

/**
 * @param {Wanted} wanted
 * @returns {Promise<FrameTable>}
 */
export async function readFrames(wanted) {
  const { video, file, movie, signal } = wanted;
  if (!("requestVideoFrameCallback" in video)) {
    throw new CaptureError("This browser cannot go through a clip frame by frame. A newer one can.");
  }
  const address = URL.createObjectURL(file);
  try {
    video.muted = true;
    video.src = address;
    await once(video, "loadeddata", signal).catch((error) => {
      throw signal.aborted ? error : undecodable(movie);
    });
    if (video.videoWidth === 0) {
      throw undecodable(movie);
    }
    const reader = new Reader(wanted);
    await play(reader).catch((error) => {
      throw signal.aborted || reader.trouble ? error : undecodable(movie);
    });
    await fill(reader);
    return reader.table;
  } finally {
    video.pause();
    video.removeAttribute("src");
    video.load();
    URL.revokeObjectURL(address);
  }
}
