/**
 * A take that runs: the microphone open, the bench asked every 0.3 s what was heard, each shot counted once, cues only between
 * shots, and the take ended by the person, by its last shot, or by what took the microphone away.
 * Not here: what the page shows of it (`listen.js`); what a shot's time is, which the bench says.
 *
 * @import { Bench } from "../bench/client.js"
 * @import { Listening, TakeAbout } from "../bench/shapes.js"
 * @import { Loss } from "../capture/microphone.js"
 */

import { keepAwake } from "../capture/awake.js";
import { speak, tone } from "../capture/cue.js";
import { openMicrophone } from "../capture/microphone.js";
import { Recording } from "../capture/recording.js";
import { Counter } from "./counting.js";
import { Plan, SPECIAL } from "./plan.js";

/** How often it is looked [ms], and how much there must be to look at [s]. */
const EVERY = 300;
const LEAST = 0.4;
/** A finger on the glass is heard about this long before and after what it does [s]. */
const TOUCH_BEFORE = 0.3;
const TOUCH_AFTER = 0.4;
/** How long a cue rings on [s]. */
const RING = 0.35;
/** How long the last shot is listened after [ms]. */
const AFTER = 700;
/** Longest take [s]. */
const LONGEST = 600;

/** @typedef {Loss | "stopped" | "done" | "limit"} Ending */
/** @typedef {{ spoken: boolean, tone: boolean }} Cues */

/** A take that runs. */
export class Session {
  /** @type {Listening | null} What was heard last. */
  heard = null;
  /** Whether a shot may come now; between shots the page may be speaking. */
  open = false;
  /** @type {Promise<void> | null} */
  #looking = null;
  #over = false;
  #timer = 0;

  /**
   * @param {object} what
   * @param {Bench} what.bench
   * @param {TakeAbout} what.about
   * @param {readonly string[]} what.marks A mark for each shot.
   * @param {Cues} what.cues
   * @param {(mark: string) => string} what.said
   * @param {() => void} what.changed
   * @param {(ending: Ending) => void} what.ended
   */
  constructor(what) {
    this.what = what;
    this.plan = new Plan(what.marks);
    this.counter = new Counter(this.plan);
    this.byEar = what.about.signal === "sound";
    /** Held by hand: only the person knows when it is over. */
    this.byHand = what.marks.some((mark) => mark in SPECIAL);
  }

  /** @returns {string[]} What was asked and fired, in order. */
  get asked() {
    return this.byHand ? [...this.what.marks] : this.plan.asked;
  }

  /** Opens the microphone and begins; to be called straight from a tap. */
  async start() {
    this.microphone = await openMicrophone();
    this.recording = new Recording(this.microphone.rate);
    // The tap that began it is no shot.
    this.recording.deaf(this.byEar ? TOUCH_AFTER : 0);
    const recording = this.recording;
    try {
      await this.microphone.start((chunk) => recording.add(chunk, performance.now()), (loss) => this.end(loss));
    } catch (error) {
      await this.microphone.close();
      throw error;
    }
    if (this.#over) {
      // It was taken away again at once.
      return;
    }
    this.wake = keepAwake();
    this.#timer = setInterval(() => this.#look(), EVERY);
    await this.#ask();
  }

  /** Lets the next shot come, when the page has had its say. */
  async #ask() {
    if (this.what.cues.spoken && this.recording && !this.plan.done) {
      this.open = false;
      this.what.changed();
      this.#deaf(LONGEST);
      await speak(this.what.said(this.plan.now));
      this.recording.hear(this.byEar ? RING : 0);
      this.counter.begin(this.recording.length_s);
    }
    this.open = !this.#over;
    this.what.changed();
  }

  /** Nothing of what the page or the finger makes heard belongs to the take. A light trace hears neither and stays whole. @param {number} seconds */
  #deaf(seconds) {
    if (this.byEar) {
      this.recording?.deaf(seconds);
    }
  }

  /** One look at a time; whoever asks meanwhile waits for the same. */
  #look() {
    this.#looking ??= this.#lookNow().finally(() => { this.#looking = null; });
    return this.#looking;
  }

  async #lookNow() {
    if (!this.recording || this.recording.length_s < LEAST || (!this.open && !this.#over)) {
      return;
    }
    if (this.recording.length_s >= LONGEST) {
      this.end("limit");
      return;
    }
    try {
      const { samples, from_s } = this.recording.last(this.counter.window_s);
      const heard = await this.what.bench.listen(samples, this.recording.rate, { ...this.what.about, asked: this.plan.now ? [this.plan.now] : [] });
      this.heard = heard;
      const caught = !this.byHand && this.counter.count(heard.heard, from_s, from_s + samples.length / this.recording.rate, this.#over);
      this.what.changed();
      if (caught && !this.#over) {
        await this.#caught();
      }
    } catch {
      // What could not be looked at now is looked at again soon; at the end the whole take is.
    }
  }

  async #caught() {
    if (this.what.cues.tone && this.microphone) {
      this.#deaf(RING);
      tone(this.microphone.context);
    }
    if (this.plan.done) {
      // The quiet after the last shot is part of it.
      this.open = false;
      this.what.changed();
      await new Promise((resolve) => setTimeout(resolve, AFTER));
      await this.end("done");
    } else {
      await this.#ask();
    }
  }

  /** @param {() => void} act What a finger does while the take runs. */
  async #touch(act) {
    act();
    if (this.byEar && this.recording) {
      this.recording.forget(TOUCH_BEFORE, this.plan.caught.at(-1)?.end_s ?? 0);
      this.recording.deaf(TOUCH_AFTER);
    }
    this.counter.begin(this.recording?.length_s ?? 0);
    await (this.plan.done ? this.end("stopped") : this.#ask());
  }

  /** The last one did not count. */
  again() {
    return this.#touch(() => this.plan.again());
  }

  /** This time is left out. */
  skip() {
    return this.#touch(() => this.plan.skip());
  }

  /** The person ends it. */
  stop() {
    this.recording?.forget(this.byEar ? TOUCH_BEFORE : 0, this.plan.caught.at(-1)?.end_s ?? 0);
    return this.end("stopped");
  }

  /** @param {Ending} ending Lets go of everything and says why. */
  async end(ending) {
    if (this.#over) {
      return;
    }
    this.#over = true;
    this.open = false;
    clearInterval(this.#timer);
    this.wake?.();
    await this.microphone?.close();
    if (ending !== "done") {
      // What came in since the last look, when that is through.
      await this.#looking;
      await this.#look();
    }
    this.what.ended(ending);
  }
}
