/**
 * Runs in the browser's audio thread: gathers the microphone's blocks into chunks of 4096 samples and hands them over, with a
 * count of short holes in which nothing at all came in.
 * Not here: opening the microphone (`microphone.js`); what becomes of a chunk (`recording.js`).
 */

// The names of that thread are in no type library.
const { AudioWorkletProcessor, registerProcessor } = /** @type {any} */ (globalThis);

/** Samples in a chunk. */
const CHUNK = 4096;
/** Blocks of exact zeros between sound that are a hole: fewer are chance, more are a gate that the phone closes. */
const [HOLE_FROM, HOLE_TO] = [3, 16];

class Chunker extends AudioWorkletProcessor {
  #left = new Float32Array(CHUNK);
  #right = new Float32Array(CHUNK);
  #two = false;
  #filled = 0;
  #holes = 0;
  #zeros = 0;
  #sound = false;

  /** @param {Float32Array[][]} inputs @returns {boolean} Goes on. */
  process(inputs) {
    const [left, right] = inputs[0] ?? [];
    if (!left) {
      return true;
    }
    this.#look(left);
    this.#left.set(left, this.#filled);
    if (right) {
      this.#two = true;
      this.#right.set(right, this.#filled);
    }
    this.#filled += left.length;
    if (this.#filled >= CHUNK) {
      this.#hand();
    }
    return true;
  }

  /** @param {Float32Array} block */
  #look(block) {
    if (block.every((sample) => sample === 0)) {
      this.#zeros += 1;
      return;
    }
    if (this.#sound && this.#zeros >= HOLE_FROM && this.#zeros <= HOLE_TO) {
      this.#holes += 1;
    }
    this.#sound = true;
    this.#zeros = 0;
  }

  #hand() {
    /** @type {import("./recording.js").Chunk} */
    const chunk = { left: this.#left, right: this.#two ? this.#right : null, holes: this.#holes };
    this.port.postMessage(chunk, chunk.right ? [chunk.left.buffer, chunk.right.buffer] : [chunk.left.buffer]);
    this.#left = new Float32Array(CHUNK);
    this.#right = this.#two ? new Float32Array(CHUNK) : this.#right;
    this.#filled = 0;
    this.#holes = 0;
  }
}

registerProcessor("chunker", Chunker);
