/**
 * One frame of a clip as it shows: the part that the gate fills is read at its own size and handed to the bench, and the rows
 * that come back are kept in the order of time.
 * Not here: going from frame to frame (`frames.js`); what a frame's light means (the bench).
 *
 * @import { Bench } from "../bench/client.js"
 * @import { FrameStrips, FrameTable } from "../bench/shapes.js"
 * @import { Wanted } from "./frames.js"
 */

import { CaptureError } from "./error.js";

/**
 * @typedef {object} Gate Where the gate is in the picture.
 * @property {boolean} across The curtain travels along the width.
 * @property {number} share Of the picture's width and height that the gate fills.
 */

/** Reads the frame that a video shows now. */
export class Window {
  /** @param {HTMLVideoElement} video With a frame in it. @param {Gate} gate @param {Bench} bench */
  constructor(video, { across, share }, bench) {
    this.video = video;
    this.across = across;
    this.bench = bench;
    // Along the travel everything that the gate fills; across it the middle third is enough. Nothing is made smaller, since that
    // would average codes and not light.
    const [along, aside] = [share, share / 3];
    this.width = Math.max(3, Math.round(video.videoWidth * (across ? along : aside)));
    this.height = Math.max(3, Math.round(video.videoHeight * (across ? aside : along)));
    const canvas = Object.assign(document.createElement("canvas"), { width: this.width, height: this.height });
    const pen = canvas.getContext("2d", { willReadFrequently: true });
    if (!pen) {
      throw new CaptureError("The phone has no memory left for this clip. Close other pages and try again.");
    }
    this.pen = pen;
  }

  /** @returns {Promise<FrameStrips>} */
  read() {
    const { width, height, video } = this;
    const [left, top] = [Math.round((video.videoWidth - width) / 2), Math.round((video.videoHeight - height) / 2)];
    this.pen.drawImage(video, left, top, width, height, 0, 0, width, height);
    const { data } = this.pen.getImageData(0, 0, width, height);
    return this.bench.frameStrips(data, width, height, this.across);
  }
}

/** @param {readonly number[]} times In order. @param {number} time @returns {number} Index of the nearest. */
function nearest(times, time) {
  let [low, high] = [0, times.length - 1];
  while (high - low > 1) {
    const middle = (low + high) >> 1;
    [low, high] = (times[middle] ?? 0) <= time ? [middle, high] : [low, middle];
  }
  return Math.abs((times[low] ?? 0) - time) <= Math.abs((times[high] ?? 0) - time) ? low : high;
}

/** The frames of a clip that were read so far. */
export class Reader {
  /** @type {Map<number, FrameStrips>} */
  rows = new Map();
  /** @type {Set<number>} */
  seen = new Set();
  waiting = 0;
  /** @type {unknown} */
  trouble = null;
  /** Called with each answer. */
  #answered = () => {};

  /** @param {Wanted} wanted */
  constructor(wanted) {
    this.wanted = wanted;
    this.window = new Window(wanted.video, wanted, wanted.bench);
  }

  /** @param {number} time Where the frame that shows now stands in the clip [s]. */
  read(time) {
    const { movie, progress } = this.wanted;
    const i = nearest(movie.frame_times_s, time);
    if (this.seen.has(i)) {
      return;
    }
    this.seen.add(i);
    this.waiting += 1;
    this.window.read().then(
      (strips) => this.rows.set(i, strips),
      (error) => (this.trouble ??= error),
    ).finally(() => {
      this.waiting -= 1;
      progress(this.rows.size, movie.frame_times_s.length);
      this.#answered();
    });
  }

  /** When the bench has answered for all but so many frames. @param {number} most */
  async settled(most) {
    while (this.waiting > most && !this.trouble) {
      await new Promise((resolve) => (this.#answered = () => resolve(undefined)));
    }
    if (this.trouble) {
      throw this.trouble;
    }
  }

  /** @returns {FrameTable} */
  get table() {
    const rows = [...this.rows].sort(([a], [b]) => a - b);
    return {
      rows: rows.flatMap(([i, row]) => [this.wanted.movie.frame_times_s[i] ?? 0, ...row.means, row.clipped_share]),
      clock_step_s: this.wanted.movie.clock_step_s,
    };
  }
}
