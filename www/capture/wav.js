/**
 * A recording as a WAV file of 16-bit samples, as RIFF has it, to be kept or handed on.
 * Not here: reading one (the bench); keeping it (`store/recordings.js`).
 */

const HEAD = 44;
const WIDTH = 2;
const FULL = 32767;

/**
 * @param {readonly Float32Array[]} channels Of the same length, full scale 1; what is beyond is cut there.
 * @param {number} rate Samples a second.
 * @returns {Blob}
 */
export function toWav(channels, rate) {
  const frames = channels[0]?.length ?? 0;
  const bytes = new ArrayBuffer(HEAD + frames * channels.length * WIDTH);
  head(new DataView(bytes, 0, HEAD), channels.length, rate, bytes.byteLength - HEAD);
  // A WAV has the low byte first, as every processor that runs a browser today does.
  const samples = new Int16Array(bytes, HEAD);
  channels.forEach((channel, c) => {
    for (let i = 0; i < frames; i += 1) {
      samples[i * channels.length + c] = Math.round(Math.max(-1, Math.min(1, channel[i] ?? 0)) * FULL);
    }
  });
  return new Blob([bytes], { type: "audio/wav" });
}

/** @param {DataView} view @param {number} channels @param {number} rate @param {number} length Of the samples [bytes]. */
function head(view, channels, rate, length) {
  const text = (/** @type {number} */ at, /** @type {string} */ letters) => [...letters].forEach((letter, i) => view.setUint8(at + i, letter.charCodeAt(0)));
  text(0, "RIFF");
  view.setUint32(4, HEAD - 8 + length, true);
  text(8, "WAVEfmt ");
  view.setUint32(16, 16, true);
  view.setUint16(20, 1, true);
  view.setUint16(22, channels, true);
  view.setUint32(24, rate, true);
  view.setUint32(28, rate * channels * WIDTH, true);
  view.setUint16(32, channels * WIDTH, true);
  view.setUint16(34, WIDTH * 8, true);
  text(36, "data");
  view.setUint32(40, length, true);
}
