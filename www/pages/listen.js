/**
 * Hands free through the dial: press once, fire; at the end the whole take is worked out and goes into the record. Also bulb,
 * self-timer, and a take from a file.
 * Not here: listening (`listening.js`); the order of the times (`plan.js`); what the bench makes of a take.
 *
 * @import { Lists, MeasuredTake, TakeAbout } from "../bench/shapes.js"
 * @import { Fired } from "./fired.js"
 * @import { Hand } from "./hand.js"
 * @import { Ending } from "./listening.js"
 */

import { bench } from "../bench/client.js";
import { canSpeak } from "../capture/cue.js";
import { readSound, SOUNDS } from "../capture/sound-file.js";
import { toWav } from "../capture/wav.js";
import { putRecording } from "../store/recordings.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { firedPart, hasMirror, plan, remember, remembered } from "./fired.js";
import { withCamera } from "./hand.js";
import { amend, keepTake } from "./keep-take.js";
import { how, running } from "./listen-parts.js";
import { Session } from "./listening.js";

const theBench = await bench();
/** @type {Lists} */
let lists;
/** @type {Fired} */
let fired;
/** @type {Session | null} */
let session = null;
/** What is being done meanwhile. */
let busy = "";
/** @type {unknown} Why nothing came of it. */
let wrong = "";
/** Whether the shots of a file were fired in the order that is chosen. */
let inOrder = true;

/** @type {Partial<Record<Ending, string>>} */
const ENDINGS = {
  unplugged: "The take ended early: the microphone was unplugged or taken away. What was caught until then is here.",
  interrupted: "The take ended early: the phone took the microphone, as a call does. What was caught until then is here.",
  hidden: "The take ended early: the page was out of sight or the screen locked. What was caught until then is here.",
  limit: "The take ended after ten minutes, which is the longest that is kept.",
};

/** @param {Hand} hand @param {string} source @param {string[]} capture @param {string[]} asked @returns {TakeAbout} */
const about = (hand, source, capture, asked) => ({
  started: new Date().toISOString(), signal: fired.signal, source, capture, build: hand.inspection.shutter.build,
  mirror: hasMirror(hand) && !fired.locked, asked, duty: "", capture_rate: "", tone_steps: [],
});

/** @param {Hand} hand @param {() => Promise<MeasuredTake>} measure @param {(measured: MeasuredTake) => void | Promise<void>} [finish] */
async function workOut(hand, measure, finish = () => {}) {
  [busy, wrong] = ["Working out the shots …", ""];
  draw(hand);
  try {
    const measured = await measure();
    await finish(measured);
    busy = (await keepTake(hand, measured)) ? "Kept." : "";
  } catch (error) {
    [busy, wrong] = ["", error];
  }
  draw(hand);
}

/** @param {Hand} hand @param {Session} of @param {Ending} ending */
async function finish(hand, of, ending) {
  session = null;
  const { recording, microphone } = of;
  if (!recording || !microphone) {
    return;
  }
  const { line, notice } = recording.continuity();
  const left = of.plan.caught.filter((one) => !one.counts).length;
  const capture = [...of.what.about.capture, ...microphone.settings, line, ...(left > 0 ? [`${left} taken back while listening`] : [])];
  const early = ENDINGS[ending];
  const channels = recording.channels(fired.signal === "light");
  // The bench takes the samples away with it.
  const wav = fired.keep ? toWav(channels, recording.rate) : null;
  await workOut(
    hand,
    () => theBench.measureRecording(channels, recording.rate, { ...of.what.about, capture, asked: of.asked }),
    async (measured) => {
      amend(measured, of.plan.caught, [...(notice ? [{ code: "not-continuous", text: notice }] : []), ...(early ? [{ code: "ended-early", text: early }] : [])]);
      if (wav && measured.take.shots.length > 0) {
        measured.take.kept = await putRecording(wav);
      }
    },
  );
}

/** @param {Hand} hand @param {string[]} marks */
async function listen(hand, marks) {
  [wrong, busy] = ["", "Opening the microphone …"];
  remember(fired);
  const now = new Session({
    bench: theBench, about: about(hand, "microphone", [], []), marks, cues: { spoken: fired.spoken, tone: fired.tone },
    said: (mark) => hand.view.shutter.marks.find((one) => one.mark === mark)?.spoken ?? "",
    changed: () => session && draw(hand),
    ended: (ending) => finish(hand, now, ending),
  });
  draw(hand);
  try {
    session = now;
    await now.start();
    busy = "";
  } catch (error) {
    [session, busy, wrong] = [null, "", error];
  }
  draw(hand);
}

/** @param {Hand} hand @param {Event} event */
async function fromFile(hand, event) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const file = input.files?.[0];
  if (file) {
    const asked = inOrder ? plan(hand, fired) : [];
    await workOut(hand, async () => {
      const sound = await readSound(file);
      return "bytes" in sound
        ? theBench.measureWav(sound.bytes, about(hand, file.name, [], asked))
        : theBench.measureRecording(sound.channels, sound.rate, about(hand, file.name, [sound.line], asked));
    });
  }
  input.value = "";
}

/** @param {Hand} hand */
function choosing(hand) {
  const put = (/** @type {Partial<Fired>} */ values) => {
    fired = { ...fired, ...values };
    draw(hand);
  };
  const tick = (/** @type {string} */ words, /** @type {boolean} */ on, /** @type {() => void} */ flip) =>
    html`<label class="tick"><input type="checkbox" .checked=${on} @change=${flip} /><span>${words}</span></label>`;
  const signals = lists.signals.filter((one) => one.key !== "video");
  const { build } = hand.view.shutter;
  return html`
    ${choice({ legend: "What is listened to", name: "signal", layout: "wide", value: fired.signal, options: signals, pick: (signal) => put({ signal, spoken: false, tone: signal === "light" }) })}
    ${how(fired.signal)}
    ${fired.signal === "sound" ? html`<p class="split"><span>${build ? `Build: ${build}` : "The build of the shutter is not entered; sound tells more when it is."}</span><a class="tap" href=${to("shutter")}>change<span class="unseen"> the build</span></a></p>` : nothing}
    ${firedPart({ hand, fired, put })}
    ${tick("A short tone, and a buzz where the phone can, when a shot is caught", fired.tone, () => put({ tone: !fired.tone }))}
    ${canSpeak() ? tick("Say the next time aloud, between the shots", fired.spoken, () => put({ spoken: !fired.spoken })) : nothing}
    ${tick("Keep the recording on this phone, about 6 MB a minute", fired.keep, () => put({ keep: !fired.keep }))}
    <h2>Besides</h2>
    <div class="actions">
      <button type="button" @click=${() => listen(hand, ["bulb"])}>Bulb</button>
      <button type="button" @click=${() => listen(hand, ["self-timer"])}>Self-timer</button>
    </div>
    <h2>A take from a file</h2>
    ${tick("Its shots were fired in the order that is chosen above", inOrder, () => { inOrder = !inOrder; draw(hand); })}
    <label class="button file"><input type="file" id="sound-file" accept=${SOUNDS} @change=${(/** @type {Event} */ event) => fromFile(hand, event)} /><span>Choose a recording</span></label>
    <p class="help">A WAV is read as it is. Anything else the browser decodes first, and the record says so.</p>`;
}

/** @param {Hand} hand */
function draw(hand) {
  const marks = plan(hand, fired);
  const none = hand.view.shutter.marks.length === 0;
  const now = busy ? null : session;
  show({
    title: "Listen",
    about: hand.view.title,
    up: [to("shutter"), "Shutter"],
    main: html`${refusal(wrong || hand.wrong)}${happened(hand.news || busy)}
      ${now
        ? running(hand, now)
        : busy
          ? nothing
          : none
            ? html`<section class="card"><p><b>Which times does the dial have?</b> Shots are put against the marked times, so these come first.</p><p><a class="tap" href=${to("camera")}>Enter the marked times</a></p></section>`
            : choosing(hand)}`,
    foot: now
      ? html`<button type="button" class="main" @click=${() => now.stop()}>Stop</button>`
      : html`<a class="button" href=${to("shutter")}>Back</a><button type="button" class="main" ?disabled=${busy !== "" || marks.length === 0} @click=${() => listen(hand, marks)}>Listen</button>`,
  });
}

// Shots that were fired are not to be lost by a slip of the finger.
addEventListener("beforeunload", (event) => session && event.preventDefault());

withCamera(draw, async (hand) => {
  lists = await theBench.lists();
  fired = await remembered(hand);
});
