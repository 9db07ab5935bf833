/**
 * What was caught of a take: its samples without what the page itself made heard, and whether they kept step with the clock.
 * Not here: the microphone (`microphone.js`); what is heard in it, which the bench says.
 *
 * @typedef {{ left: Float32Array, right: Float32Array | null, holes: number }} Chunk What the audio thread hands over.
 */

/** Stretch in which the quickest arrival of a chunk counts, since arrivals are only ever late [s]. */
const STRETCH = 2;
/** A step between samples and clock beyond this is said [ms], and for every second of the take [ms] what two crystals may differ. */
const STEP = 5;
const CRYSTALS = 0.2;

/** A take's samples. */
export class Recording {
  /** @type {Float32Array[]} */
  #left = [];
  /** @type {(Float32Array | null)[]} Only where a second channel differs from the first. */
  #right = [];
  #two = false;
  #length = 0;
  /** Samples that came in, kept or not. */
  #came = 0;
  #holes = 0;
  /** @type {number[]} The least lateness in each stretch [ms]. */
  #late = [];
  /** Nothing is kept until then, by what came in [samples]. */
  #deafUntil = 0;

  /** @param {number} rate Samples a second. */
  constructor(rate) {
    this.rate = rate;
  }

  /** @returns {number} What is kept [s]. */
  get length_s() {
    return this.#length / this.rate;
  }

  /** @param {Chunk} chunk @param {number} at When it arrived [ms]. */
  add({ left, right, holes }, at) {
    this.#came += left.length;
    this.#holes += holes;
    const late = at - (this.#came / this.rate) * 1000;
    const stretch = Math.floor(this.#came / this.rate / STRETCH);
    this.#late[stretch] = Math.min(this.#late[stretch] ?? Infinity, late);
    if (this.#came <= this.#deafUntil) {
      return;
    }
    const differs = right !== null && right.some((sample, i) => sample !== left[i]);
    this.#two ||= differs;
    this.#left.push(left);
    this.#right.push(differs ? right : null);
    this.#length += left.length;
  }

  /**
   * Does not keep what is heard for a while.
   *
   * @param {number} seconds
   */
  deaf(seconds) {
    this.#deafUntil = Math.max(this.#deafUntil, this.#came + seconds * this.rate);
  }

  /** Keeps again what is heard, from so many seconds on. @param {number} seconds */
  hear(seconds) {
    this.#deafUntil = this.#came + seconds * this.rate;
  }

  /**
   * Forgets what was heard last.
   *
   * @param {number} seconds
   * @param {number} notBefore What came before this moment of the take stays [s].
   */
  forget(seconds, notBefore) {
    const least = Math.max(notBefore, this.length_s - seconds) * this.rate;
    for (let last = this.#left.at(-1); last && this.#length - last.length >= least; last = this.#left.at(-1)) {
      this.#left.pop();
      this.#right.pop();
      this.#length -= last.length;
    }
  }

  /**
   * @param {number} seconds
   * @returns {{ samples: Float32Array, from_s: number }} The last of it, and where that begins in the take.
   */
  last(seconds) {
    let first = this.#left.length;
    let count = 0;
    while (first > 0 && count < seconds * this.rate) {
      first -= 1;
      count += this.#left[first]?.length ?? 0;
    }
    return { samples: joined(this.#left.slice(first), count), from_s: (this.#length - count) / this.rate };
  }

  /**
   * @param {boolean} two Whether a second channel is wanted where there is one.
   * @returns {Float32Array[]} All of it.
   */
  channels(two) {
    const left = joined(this.#left, this.#length);
    const both = this.#right.map((chunk, i) => chunk ?? /** @type {Float32Array} */ (this.#left[i]));
    return two && this.#two ? [left, joined(both, this.#length)] : [left];
  }

  /** @returns {{ line: string, notice: string }} Whether samples and clock kept step: for the record, and a sentence where they did not. */
  continuity() {
    // The stretch that was cut off may have had no quick arrival yet.
    const late = this.#late.slice(0, Math.max(1, this.#late.length - 1)).filter((one) => Number.isFinite(one));
    const [first = 0, last = 0] = [late[0], late.at(-1)];
    const came = this.#came / this.rate;
    const steps = late.slice(1).map((one, i) => Math.abs(one - (late[i] ?? one)));
    const most = Math.max(0, ...steps);
    const off = Math.abs(last - first);
    const parted = most > STEP + CRYSTALS * STRETCH || off > STEP + CRYSTALS * came;
    const notice = parted
      ? `The phone lost or repeated about ${Math.round(Math.max(most, off))} ms of the signal somewhere. A time that stands out may come from that: take it again.`
      : this.#holes > 0
        ? `The signal has ${this.#holes === 1 ? "a hole" : `${this.#holes} holes`} of a few hundredths of a second. A time that stands out may come from that: take it again.`
        : "";
    return { line: `clock: samples and time of day within ${Math.max(1, Math.round(off))} ms over ${Math.round(came)} s, ${this.#holes} holes`, notice };
  }
}

/** @param {Float32Array[]} chunks @param {number} length */
function joined(chunks, length) {
  const whole = new Float32Array(length);
  let at = 0;
  for (const chunk of chunks) {
    whole.set(chunk, at);
    at += chunk.length;
  }
  return whole;
}
