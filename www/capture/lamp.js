/**
 * The screen painted as a lamp: one step in device pixels over the whole screen, awake while it is lit; a tap goes a step darker, the
 * arrow keys both ways, a long press or Escape puts it out. Hands free it goes on by itself, with a buzz and a word before each step.
 * Not here: what a step is worth (the bench).
 *
 * @import { LampView } from "../bench/shapes.js"
 */

import { keepAwake } from "./awake.js";
import { speak } from "./cue.js";

/** A press longer than this puts it out [ms]. */
const LONG = 600;
/** So long before the next step it is told [s]. */
const NOTICE = 5;

/** The screen as a lamp. */
export class Lamp {
  #field = document.createElement("div");
  #canvas = document.createElement("canvas");
  #life = new AbortController();
  /** @type {(() => void) | null} */
  #sleep = null;
  #pressed = 0;
  /** @type {number[]} */
  #timers = [];
  #first = () => {};
  /** Device pixels. */
  #size = { width: 0, height: 0 };

  /**
   * @param {LampView} view
   * @param {string} key Of the step.
   * @param {object} how
   * @param {(by: number) => string} how.step Goes on and gives the key of the step to show.
   * @param {() => void} how.closed
   * @param {number} [how.every] Seconds after which it goes on by itself; 0 for only by hand.
   * @param {boolean} [how.spoken] Whether it says so.
   */
  constructor(view, key, { step, closed, every = 0, spoken = false }) {
    this.every = every;
    this.spoken = spoken;
    this.view = view;
    this.key = key;
    this.closed = closed;
    this.#field.className = "lamp";
    this.#field.tabIndex = 0;
    this.#field.setAttribute("role", "dialog");
    this.#field.append(this.#canvas);
    const { signal } = this.#life;
    const go = (/** @type {number} */ by) => {
      this.#paint(step(by));
      this.#goOn(go);
    };
    this.#first = () => this.#goOn(go);
    this.#field.addEventListener("pointerdown", (event) => { this.#pressed = event.timeStamp; }, { signal });
    this.#field.addEventListener("pointerup", (event) => (event.timeStamp - this.#pressed > LONG ? this.close() : go(1)), { signal });
    this.#field.addEventListener("keydown", (event) => {
      const by = { ArrowRight: 1, ArrowDown: 1, ArrowLeft: -1, ArrowUp: -1 }[event.key];
      if (by) {
        event.preventDefault();
        go(by);
      } else if (event.key === "Escape" || event.key === "Enter") {
        this.close();
      }
    }, { signal });
    document.addEventListener("fullscreenchange", () => document.fullscreenElement === null && this.#sleep && this.close(), { signal });
  }

  /** Lights it; to be called straight from a tap. */
  async open() {
    document.body.append(this.#field);
    // Where the phone gives no full screen, the window is what there is.
    await this.#field.requestFullscreen?.().catch(() => {});
    await this.#measure();
    this.#paint(this.key);
    this.#field.focus();
    this.#sleep = keepAwake();
    this.#first();
  }

  /** Hands free: the next step after a while, told before; after the last one it goes out. @param {(by: number) => void} go */
  #goOn(go) {
    this.#timers.forEach(clearTimeout);
    this.#timers = [];
    if (this.every === 0) {
      return;
    }
    const last = this.view.steps.at(-1)?.key === this.key;
    const tell = (/** @type {string} */ words) => {
      navigator.vibrate?.(80);
      if (this.spoken) {
        speak(words);
      }
    };
    const in_ = (/** @type {number} */ seconds, /** @type {() => void} */ act) => this.#timers.push(setTimeout(act, seconds * 1000));
    in_(Math.max(0, this.every - NOTICE), () => tell(last ? `That is the last step. Out in ${NOTICE} seconds.` : `Next step in ${NOTICE} seconds.`));
    in_(this.every, () => (last ? this.close() : go(1)));
  }

  /** How many device pixels there are: the canvas must have one for each, or the edges of the cells would blur. */
  async #measure() {
    const round = (/** @type {number} */ side) => Math.round(side * devicePixelRatio);
    this.#size = { width: round(this.#field.clientWidth), height: round(this.#field.clientHeight) };
    await new Promise((resolve) => {
      const observer = new ResizeObserver(([entry]) => {
        const [box] = entry?.devicePixelContentBoxSize ?? [];
        // A browser that only plays another pixel ratio counts those of its own screen.
        if (box && Math.abs(box.inlineSize - this.#size.width) <= 1 && Math.abs(box.blockSize - this.#size.height) <= 1) {
          this.#size = { width: box.inlineSize, height: box.blockSize };
        }
        observer.disconnect();
        resolve(null);
      });
      try {
        observer.observe(this.#canvas, { box: "device-pixel-content-box" });
      } catch {
        // A browser without it rounds as it says.
        resolve(null);
      }
    });
  }

  /** @param {string} key */
  #paint(key) {
    const step = this.view.steps.find((one) => one.key === key);
    if (!step) {
      return;
    }
    this.key = key;
    this.#field.setAttribute("aria-label", `${step.words}, ${step.ev_words}. A tap goes one step darker, a long press puts it out.`);
    const { tile_px } = this.view;
    const { width, height } = this.#size;
    Object.assign(this.#canvas, { width, height });
    // Whole tiles in the middle; what is left over stays black.
    const lit = (/** @type {number} */ side, /** @type {number} */ most) => Math.floor(Math.min(side, most) / tile_px) * tile_px;
    const [across, down] = [lit(width, this.view.width_px), lit(height, this.view.height_px)];
    const [left, top] = [Math.floor((width - across) / 2), Math.floor((height - down) / 2)];
    const drawing = this.#canvas.getContext("2d", { alpha: false });
    const tile = new ImageData(Uint8ClampedArray.from(step.tile.flatMap((value) => [value, value, value, 255])), tile_px, tile_px);
    for (let y = top; y < top + down; y += tile_px) {
      for (let x = left; x < left + across; x += tile_px) {
        drawing?.putImageData(tile, x, y);
      }
    }
    this.#canvas.dataset.pixels = String(across * down);
    this.#canvas.dataset.step = key;
  }

  /** Puts it out. */
  close() {
    if (!this.#field.isConnected) {
      return;
    }
    this.#life.abort();
    this.#timers.forEach(clearTimeout);
    this.#sleep?.();
    this.#field.remove();
    if (document.fullscreenElement) {
      document.exitFullscreen().catch(() => {});
    }
    this.closed();
  }
}
