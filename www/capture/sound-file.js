/**
 * A recording from a file: a WAV as its bytes, which the bench reads; anything else as the browser decodes it.
 * Not here: what a WAV holds (the bench); recording (`microphone.js`).
 */

import { CaptureError } from "./error.js";

/** What a file chooser should offer. */
export const SOUNDS = "audio/*,.wav";
/** The rate that the browser is asked to decode to [Hz]. */
const RATE = 48000;
const MEGABYTE = 1024 * 1024;
/** Largest files that are opened [bytes]: a WAV, and one that is decoded here and grows by that. */
const [MOST_WAV, MOST_PACKED] = [400 * MEGABYTE, 40 * MEGABYTE];

/**
 * @param {File} file
 * @returns {Promise<{ bytes: Uint8Array } | { channels: Float32Array[], rate: number, line: string }>} `line`: how it was decoded.
 */
export async function readSound(file) {
  const head = new TextDecoder("latin1").decode(await bytesOf(file.slice(0, 12)));
  const wav = /^(RIFF|RIFX|RF64)....WAVE/s.test(head) || /\.wave?$/i.test(file.name);
  const most = wav ? MOST_WAV : MOST_PACKED;
  if (file.size > most) {
    throw new CaptureError(`This recording is ${Math.ceil(file.size / MEGABYTE)} MB long, and at most ${most / MEGABYTE} MB are taken. Cut out the part with the shots.`);
  }
  if (file.size === 0) {
    throw new CaptureError("This file is empty.");
  }
  const bytes = await bytesOf(file);
  return wav ? { bytes } : decoded(bytes);
}

/** @param {Blob} part @returns {Promise<Uint8Array<ArrayBuffer>>} */
async function bytesOf(part) {
  try {
    return new Uint8Array(await part.arrayBuffer());
  } catch {
    throw new CaptureError("The file could not be read. Choose it again; it may have been moved.");
  }
}

/** @param {Uint8Array<ArrayBuffer>} bytes */
async function decoded(bytes) {
  let sound;
  try {
    sound = await new OfflineAudioContext(1, 1, RATE).decodeAudioData(bytes.buffer);
  } catch {
    throw new CaptureError("This browser cannot decode this file as a recording. Choose a WAV; most recorders can save one.");
  }
  // Arrays of their own, which may be moved to the bench: these are the browser's.
  const channels = Array.from({ length: Math.min(2, sound.numberOfChannels) }, (_, i) => sound.getChannelData(i).slice());
  return { channels, rate: sound.sampleRate, line: `decoded by the browser to ${sound.sampleRate} samples a second` };
}
