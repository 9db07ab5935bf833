/**
 * What the bench is asked about a take: a recording or a clip goes in, its shots with their times come out.
 * Not here: questions about pictures (`picturing.js`) and the record (`client.js`); catching a recording or reading a clip's frames (`capture`).
 *
 * @import { FrameStrips, FrameTable, Listening, MeasuredTake, Movie, MovieBox, TakeAbout } from "./shapes.js"
 */

import { Picturing } from "./picturing.js";

/** The questions that measure; each promise can reject with a `BenchError` whose message is a sentence to show. */
export class Measuring extends Picturing {
  /**
   * @param {Float32Array[]} channels One or two, of full scale 1; they are moved to the bench.
   * @param {number} rate In hertz.
   * @param {TakeAbout} about
   * @returns {Promise<MeasuredTake>}
   */
  measureRecording(channels, rate, about) {
    return this.messenger.ask("measure_recording", [channels, rate, about], channels.map(({ buffer }) => buffer));
  }

  /**
   * @param {Uint8Array} bytes Of a WAV file; they are moved to the bench.
   * @param {TakeAbout} about
   * @returns {Promise<MeasuredTake>}
   */
  measureWav(bytes, about) {
    return this.messenger.ask("measure_wav", [bytes, about], [bytes.buffer]);
  }

  /**
   * @param {Float32Array} samples The last few seconds of a take.
   * @param {number} rate In hertz.
   * @param {TakeAbout} about Its `asked` holds the marked time that is asked for now.
   * @returns {Promise<Listening>}
   */
  listen(samples, rate, about) {
    return this.messenger.ask("listen", [samples, rate, about]);
  }

  /**
   * @param {Uint8Array} head The first bytes of a box; 16 are enough.
   * @param {number} at Where they stand in the file.
   * @param {number} fileSize
   * @returns {Promise<MovieBox>}
   */
  movieBox(head, at, fileSize) {
    return this.messenger.ask("movie_box", [head, at, fileSize]);
  }

  /**
   * @param {Uint8Array} moov The whole box.
   * @returns {Promise<Movie>}
   */
  readMovie(moov) {
    return this.messenger.ask("read_movie", [moov]);
  }

  /**
   * @param {Uint8ClampedArray} rgba Is moved to the bench.
   * @param {number} width
   * @param {number} height
   * @param {boolean} across The curtain travels along the width.
   * @returns {Promise<FrameStrips>}
   */
  frameStrips(rgba, width, height, across) {
    return this.messenger.ask("frame_strips", [rgba, width, height, across], [rgba.buffer]);
  }

  /**
   * @param {FrameTable} table
   * @param {TakeAbout} about
   * @returns {Promise<MeasuredTake>}
   */
  measureFrames(table, about) {
    const rows = new Float64Array(table.rows);
    return this.messenger.ask("measure_frames", [rows, table.clock_step_s, about], [rows.buffer]);
  }
}
