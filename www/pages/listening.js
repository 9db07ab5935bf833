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
import { about_s, Plan, SPECIAL } from "./plan.js";

/** How often it is looked [ms], and how much the bench is given at least, and at most for what is held by hand [s]. */
const EVERY = 300;
const WINDOW = 6;
const LONGEST_WINDOW = 40;
/** A shot counts when nothing more has come for this long [s]; what begins this close behind one is its echo [s]. */
const SETTLED = 0.25;
const ECHO = 0.12;
/** A finger on the glass is heard about this long before and after what it does [s]. */
const TOUCH_BEFORE = 0.3;
const TOUCH_AFTER = 0.4;
/** Share of a marked time within which nothing else is a new shot: a slow one has its end still to come. */
const MEANWHILE = 1.25;
/** How long a cue rings on [s]. */
const RING = 0.35;
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
  #looking = false;
  #over = false;
  #timer = 0;
  /** What begins before this moment of the take was counted or does not count [s]. */
  #from_s = 0;

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
    this.wake = await keepAwake();
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
      this.#from_s = this.recording.length_s;
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

  get #window_s() {
    const mark = this.plan.now;
    return mark in SPECIAL ? LONGEST_WINDOW : Math.max(WINDOW, 3 * about_s(mark) + 3);
  }

  async #look(settled = SETTLED) {
    if (this.#looking || !this.recording || (!this.open && !this.#over)) {
      return;
    }
    if (this.recording.length_s >= LONGEST) {
      this.end("limit");
      return;
    }
    this.#looking = true;
    try {
      const { samples, from_s } = this.recording.last(this.#window_s);
      const heard = await this.what.bench.listen(samples, this.recording.rate, { ...this.what.about, asked: this.plan.now ? [this.plan.now] : [] });
      this.heard = heard;
      const until_s = samples.length / this.recording.rate - settled;
      const before = this.plan.caught.length;
      for (const one of this.byHand ? [] : heard.heard) {
        const [start_s, end_s] = [from_s + one.start_s, from_s + one.end_s];
        const meanwhile = MEANWHILE * about_s(this.plan.now);
        const ended = one.end_s <= until_s && (one.start_s + meanwhile <= until_s || this.#over);
        if (start_s > this.#from_s && ended && !this.plan.done) {
          this.plan.take({ words: one.words, start_s, end_s });
          this.#from_s = Math.max(end_s + ECHO, start_s + meanwhile);
        }
      }
      this.what.changed();
      if (this.plan.caught.length > before && !this.#over) {
        await this.#caught();
      }
    } catch {
      // What could not be looked at now is looked at again soon; at the end the whole take is.
    } finally {
      this.#looking = false;
    }
  }

  async #caught() {
    if (this.what.cues.tone && this.microphone) {
      this.#deaf(RING);
      tone(this.microphone.context);
    }
    if (this.plan.done) {
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
    this.#from_s = this.recording?.length_s ?? 0;
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
      while (this.#looking) {
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
      await this.#look(0);
    }
    this.what.ended(ending);
  }
}
