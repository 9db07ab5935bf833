/**
 * The shutter from a clip of the phone's own camera: how to film it, what the file says, its frames read one by one, the take kept.
 * Not here: reading boxes and frames (`capture`); what the frames come to (the bench).
 *
 * @import { Movie, TakeAbout } from "../bench/shapes.js"
 * @import { Fired } from "./fired.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { keepAwake } from "../capture/awake.js";
import { readFrames } from "../capture/frames.js";
import { Window } from "../capture/frame-reader.js";
import { CLIPS, readMovie } from "../capture/movie.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { gate, rates, steps, tone } from "./clip-parts.js";
import { DIRECTIONS, firedPart, plan, remembered } from "./fired.js";
import { withCamera } from "./hand.js";
import { keepTake } from "./keep-take.js";

/**
 * @typedef {object} Draft What has to be known of a clip.
 * @property {string} travel `width` or `height`.
 * @property {string} share Of the picture that the gate fills.
 * @property {string} duty As typed.
 * @property {string} rate `file`, `captured`, `other`, or empty where it was not chosen yet.
 * @property {string} typed_rate
 * @property {number[]} tone_steps
 * @property {boolean} tone_shown
 */

const theBench = await bench();
/** @type {Fired} */
let fired;
/** @type {{ file: File, movie: Movie } | null} */
let clip = null;
/** @type {Draft} */
let draft = { travel: "width", share: "1", duty: "", rate: "", typed_rate: "", tone_steps: [], tone_shown: false };
/** @type {{ done: number, of: number, stop: AbortController } | null} */
let reading = null;
let busy = "";
/** @type {unknown} */
let wrong = "";

const COUNTS = ["1", "2", "3", "5"];
const ANY = [...DIRECTIONS, { key: "unknown", words: "Not in order", help: "" }];

/** @param {Hand} hand @param {Event} event */
async function choose(hand, event) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const file = input.files?.[0];
  if (file) {
    [clip, busy, wrong] = [null, "Looking at the clip …", ""];
    draw(hand);
    try {
      clip = { file, movie: await readMovie(file, theBench) };
      // Where the file disagrees with itself, only the person knows.
      draft = { ...draft, rate: clip.movie.question ? "" : clip.movie.capture_rate_hz !== null ? "captured" : "file" };
    } catch (error) {
      wrong = error;
    }
    busy = "";
    draw(hand);
  }
  input.value = "";
}

/** @param {Hand} hand @param {File} file @param {Movie} movie @returns {TakeAbout} */
function about(hand, file, movie) {
  const { rate, typed_rate, duty, tone_steps } = draft;
  return {
    started: new Date().toISOString(), signal: "video", source: file.name,
    capture: [movie.rate_words, `${movie.codec}, ${movie.width_px} × ${movie.height_px} pixels, ${movie.frame_times_s.length} frames`, `curtain along the picture's ${draft.travel}`],
    build: hand.inspection.shutter.build, mirror: false, asked: fired.direction === "unknown" ? [] : plan(hand, fired), duty,
    capture_rate: rate === "captured" ? String(movie.capture_rate_hz) : rate === "other" ? typed_rate : "", tone_steps,
  };
}

/** @param {Hand} hand */
async function measure(hand) {
  if (!clip) {
    return;
  }
  const { file, movie } = clip;
  const now = { done: 0, of: movie.frame_times_s.length, stop: new AbortController() };
  [reading, wrong] = [now, ""];
  draw(hand);
  const sleep = keepAwake();
  try {
    const video = /** @type {HTMLVideoElement} */ (document.getElementById("clip-video"));
    const table = await readFrames({
      video, file, movie, across: draft.travel === "width", share: Number(draft.share), bench: theBench, signal: now.stop.signal,
      progress: (done, of) => { Object.assign(now, { done, of }); draw(hand); },
    });
    busy = "Working out the shots …";
    draw(hand);
    const measured = await theBench.measureFrames(table, about(hand, file, movie));
    busy = (await keepTake(hand, measured)) ? "Kept." : "";
  } catch (error) {
    [busy, wrong] = ["", now.stop.signal.aborted ? "" : error];
  }
  sleep();
  reading = null;
  draw(hand);
}

/** @param {Hand} hand The clip with the stepped aperture: shown to be stopped by hand. */
function tonePart(hand) {
  const video = () => /** @type {HTMLVideoElement} */ (document.getElementById("tone-video"));
  const fail = (/** @type {unknown} */ error) => { wrong = error; draw(hand); };
  return tone(draft, {
    choose: (event) => {
      const file = /** @type {HTMLInputElement} */ (event.target).files?.[0];
      if (file) {
        URL.revokeObjectURL(video().src);
        video().onerror = () => { draft = { ...draft, tone_shown: false }; fail("This browser cannot decode this clip. Film in the setting that is called “most compatible” or H.264."); };
        video().src = URL.createObjectURL(file);
        draft = { ...draft, tone_shown: true };
        draw(hand);
      }
    },
    take: () => new Window(video(), { across: draft.travel === "width", share: Number(draft.share) }, theBench).read().then(
      ({ means: [, middle = 0] }) => { draft = { ...draft, tone_steps: [...draft.tone_steps, middle] }; draw(hand); }, fail),
    clear: () => { draft = { ...draft, tone_steps: [] }; draw(hand); },
  });
}

/** @param {Hand} hand */
function draw(hand) {
  const put = (/** @type {Partial<Draft>} */ values) => { draft = { ...draft, ...values }; draw(hand); };
  const open = clip !== null && !reading && busy === "";
  const movie = clip?.movie;
  show({
    title: "Clip",
    about: hand.view.title,
    up: [to("shutter"), "Shutter"],
    main: html`${refusal(wrong || hand.wrong)}${happened(hand.news || busy)}
      <div ?hidden=${reading !== null}>
        ${steps(clip === null)}
        <label class="button file"><input type="file" id="clip-file" accept=${CLIPS} @change=${(/** @type {Event} */ event) => choose(hand, event)} /><span>${clip ? "Another clip" : "Choose the clip"}</span></label>
        ${clip && movie ? html`${rates(clip.file.name, movie, draft, put)}${gate(draft, put)}
          <h2>What was fired</h2>${firedPart({ hand, fired, put: (values) => { fired = { ...fired, ...values }; draw(hand); }, counts: COUNTS, directions: ANY, mirror: false })}
          ${tonePart(hand)}` : nothing}
      </div>
      ${reading ? html`<p><b>${reading.done} of ${reading.of} frames read.</b> The clip is played slowly, so that none is left out; keep this page in sight.</p>
        <progress max=${reading.of} value=${reading.done} aria-label="Frames read"></progress>` : nothing}
      <video id="clip-video" class="clip-video" muted playsinline aria-label="The clip, while it is read" ?hidden=${reading === null}></video>`,
    foot: reading
      ? html`<button type="button" class="main" @click=${() => reading?.stop.abort()}>Stop</button>`
      : html`<a class="button" href=${to("shutter")}>Back</a><button type="button" class="main" ?disabled=${!open || draft.rate === ""} @click=${() => measure(hand)}>Read the frames</button>`,
  });
}

withCamera(draw, async (hand) => {
  fired = await remembered(hand);
});
