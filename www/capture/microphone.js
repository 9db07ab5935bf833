/**
 * The microphone as a measuring input: opened with all processing off, at the rate that it has, its samples handed over chunk by
 * chunk; said when it was taken away.
 * Not here: keeping the samples (`recording.js`); what is heard in them, which the bench says.
 *
 * @import { Chunk } from "./recording.js"
 */

import { CaptureError } from "./error.js";

/** Below this rate fast times cannot be told [Hz]. */
const LEAST_RATE = 44100;
/** A context that does not run by then never will [ms]. */
const PATIENCE = 4000;
/** What would change the signal. Bare wishes: a browser that does not know one goes on without it. */
const RAW = { echoCancellation: false, noiseSuppression: false, autoGainControl: false, voiceIsolation: false };
/** @type {[keyof typeof RAW, string][]} */
const SAID = [["echoCancellation", "echo cancellation"], ["noiseSuppression", "noise suppression"], ["autoGainControl", "automatic gain"]];
/** @type {Record<string, string>} */
const REFUSALS = {
  NotAllowedError: "The microphone was refused. Allow it for this page in the browser's settings for this site, then press Listen again.",
  NotFoundError: "No microphone was found. Plug one in and press Listen again, or take a recording from a file.",
  NotReadableError: "The microphone is in use elsewhere. End the call or the recorder, then press Listen again.",
};

/**
 * Why a microphone gave out: unplugged or taken by the browser, a call, the page out of sight.
 *
 * @typedef {"unplugged" | "interrupted" | "hidden"} Loss
 */

/** @returns {Promise<MediaStream>} */
async function stream() {
  if (!navigator.mediaDevices?.getUserMedia) {
    throw new CaptureError("This browser gives this page no microphone. Open the page by its https address, or take a recording from a file.");
  }
  try {
    return await navigator.mediaDevices.getUserMedia({ audio: /** @type {MediaTrackConstraints} */ (RAW) });
  } catch (error) {
    const name = error instanceof DOMException ? error.name : "";
    throw new CaptureError(REFUSALS[name] ?? `The microphone could not be opened${name ? ` (${name})` : ""}. Take a recording from a file instead.`);
  }
}

/** @param {AudioContext} context */
async function running(context) {
  await Promise.race([context.resume(), new Promise((resolve) => setTimeout(resolve, PATIENCE))]);
  if (context.state !== "running") {
    throw new CaptureError("The phone did not start listening. Press Listen again.");
  }
}

/** A microphone that is open. */
export class Microphone {
  #life = new AbortController();

  /** @param {MediaStream} from @param {AudioContext} context */
  constructor(from, context) {
    this.stream = from;
    this.context = context;
  }

  /** @returns {number} Samples a second. */
  get rate() {
    return this.context.sampleRate;
  }

  /** @returns {string[]} How it listens, as the browser reports it, a line each. */
  get settings() {
    const told = /** @type {Record<string, unknown>} */ (this.stream.getAudioTracks()[0]?.getSettings() ?? {});
    const state = (/** @type {unknown} */ value) => (value === false ? "off" : value === undefined ? "not reported" : "on");
    return [`${this.rate} samples a second`, SAID.map(([name, words]) => `${words} ${state(told[name])}`).join(", ")];
  }

  /**
   * Hands over what comes in, until it is closed or lost.
   *
   * @param {(chunk: Chunk) => void} hear
   * @param {(loss: Loss) => void} lost
   */
  async start(hear, lost) {
    await this.context.audioWorklet.addModule(new URL("./chunker.js", import.meta.url).href);
    const source = this.context.createMediaStreamSource(this.stream);
    const chunker = new AudioWorkletNode(this.context, "chunker");
    chunker.port.onmessage = (event) => !this.#life.signal.aborted && hear(event.data);
    source.connect(chunker);
    // Some browsers run only what leads to the loudspeaker; it puts out silence.
    chunker.connect(this.context.destination);
    const { signal } = this.#life;
    const lose = (/** @type {Loss} */ loss) => !signal.aborted && lost(loss);
    for (const track of this.stream.getAudioTracks()) {
      track.addEventListener("ended", () => lose("unplugged"), { signal });
      track.addEventListener("mute", () => lose("interrupted"), { signal });
    }
    this.context.addEventListener("statechange", () => this.context.state !== "running" && lose("interrupted"), { signal });
    document.addEventListener("visibilitychange", () => document.hidden && lose("hidden"), { signal });
    addEventListener("pagehide", () => lose("hidden"), { signal });
  }

  /** Lets go of it. */
  async close() {
    this.#life.abort();
    for (const track of this.stream.getTracks()) {
      track.stop();
    }
    await this.context.close().catch(() => {});
  }
}

/**
 * Opens the microphone; to be called straight from a tap.
 *
 * @returns {Promise<Microphone>}
 */
export async function openMicrophone() {
  const from = await stream();
  // Made after the microphone and without a wish for a rate, so that nothing is resampled.
  const microphone = new Microphone(from, new AudioContext());
  try {
    await running(microphone.context);
    if (microphone.rate < LEAST_RATE) {
      throw new CaptureError(`The phone listens with ${microphone.rate} samples a second, and fast times need at least ${LEAST_RATE}. A wireless headset does that: switch it off and press Listen again.`);
    }
    return microphone;
  } catch (error) {
    await microphone.close();
    throw error;
  }
}
