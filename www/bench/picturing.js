/**
 * What the bench is asked about pictures: light averaged from strips of a canvas goes in, openings and scattered light come out.
 * Not here: questions about takes (`measuring.js`) and the record (`client.js`); decoding a picture (`capture`).
 *
 * @import { FilmRead, FoundOpening, GlareMeasured, GlarePhotos, GlareSample, Hole, LeakPicture, OpeningShot, PictureAbout, RollWall } from "./shapes.js"
 */

import { Messenger } from "./messenger.js";

/** The questions about pictures; each promise can reject with a `BenchError` whose message is a sentence to show. */
export class Picturing {
  /** @protected */
  messenger = new Messenger();

  /** @param {Uint8Array} bytes Of a picture's file. @returns {Promise<PictureAbout>} */
  pictureAbout(bytes) {
    return this.messenger.ask("picture_about", [bytes]);
  }

  /** @param {number} width @param {number} height @returns {Promise<number>} How often it is averaged down. */
  pictureFactor(width, height) {
    return this.messenger.ask("picture_factor", [width, height]);
  }

  /** @param {Uint8ClampedArray} rgba Is moved to the bench. @param {number} width @param {number} height @param {number} factor @returns {Promise<Float32Array>} */
  pictureStrip(rgba, width, height, factor) {
    return this.messenger.ask("picture_strip", [rgba, width, height, factor], [rgba.buffer]);
  }

  /**
   * @param {{ light: Float32Array, width: number, height: number }} picture Averaged down.
   * @param {{ x: number, y: number }} tap In its pixels.
   * @param {string} shown The marked f-number, where it is known.
   * @param {readonly string[]} dial
   * @returns {Promise<FoundOpening>}
   */
  findOpening({ light, width, height }, { x, y }, shown, dial) {
    return this.messenger.ask("find_opening", [light, width, height, x, y, shown, dial]);
  }

  /** @param {readonly OpeningShot[]} openings @param {readonly string[]} dial @returns {Promise<OpeningShot[]>} In the order they were taken, with mark and side. */
  guessOpenings(openings, dial) {
    return this.messenger.ask("guess_openings", [openings, dial]);
  }

  /**
   * @param {{ light: Float32Array, width: number, height: number, factor: number }} picture Averaged down.
   * @param {{ x: number, y: number }} tap In its pixels.
   * @returns {Promise<Hole>}
   */
  findHole({ light, width, height, factor }, { x, y }) {
    return this.messenger.ask("find_hole", [light, width, height, x, y, factor]);
  }

  /** @param {Uint8ClampedArray} rgba The part that the hole asks for. @param {Hole} hole @param {number | null} ev100 @param {string} name @returns {Promise<GlareSample>} */
  glareSample(rgba, hole, ev100, name) {
    return this.messenger.ask("glare_sample", [rgba, hole, ev100 ?? undefined, name]);
  }

  /** @param {GlarePhotos} photos @returns {Promise<GlareMeasured>} */
  measureGlare(photos) {
    return this.messenger.ask("measure_glare", [photos, new Date().toISOString()]);
  }

  /**
   * @param {ImageData} on With the lamp on.
   * @param {ImageData} off With it off; of the same size.
   * @returns {Promise<LeakPicture>} Where light comes out.
   */
  leakPicture(on, off) {
    return this.messenger.ask("leak_picture", [on.data, off.data, on.width, on.height]);
  }

  /** @param {Float64Array} corners Of the gate in the photo's own pixels, x and y by turns. @returns {Promise<number>} How often it is averaged down. */
  filmFactor(corners) {
    return this.messenger.ask("film_factor", [corners]);
  }

  /** @param {Uint8ClampedArray} rgba @param {number} width @param {number} height @param {Float64Array} corners In its pixels. @returns {Promise<boolean>} Whether it has a colour negative's mask. */
  filmMasked(rgba, width, height, corners) {
    return this.messenger.ask("film_masked", [rgba, width, height, corners]);
  }

  /** @param {{ light: Float32Array, width: number, height: number }} picture Averaged down. @param {Float64Array} corners In its pixels. @param {string} film @param {boolean} masked @returns {Promise<FilmRead>} */
  readBlank({ light, width, height }, corners, film, masked) {
    return this.messenger.ask("read_blank", [light, width, height, corners, film, masked, new Date().toISOString()]);
  }

  /** @param {{ light: Float32Array, width: number, height: number }} picture Averaged down. @param {Float64Array} corners In its pixels. @returns {Promise<Float32Array>} */
  layOutWall({ light, width, height }, corners) {
    return this.messenger.ask("lay_out_wall", [light, width, height, corners]);
  }

  /** @param {readonly Float32Array[]} strips The wall, with a stop less, with a stop more, turned; empty where there is none. @param {string} travel @returns {Promise<RollWall>} */
  readWall(strips, travel) {
    return this.messenger.ask("read_wall", [...strips, travel, new Date().toISOString()]);
  }
}
