/**
 * A live reading with the camera's exposure locked, where the browser gives that: how much brighter the middle of the picture is than
 * when it was set to zero. It tells differences between levels and no level by itself.
 * Not here: the camera (`capture/locked-camera.js`); what the difference is (the bench).
 *
 * @import { LiveView, PatchSums } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { keepAwake } from "../capture/awake.js";
import { LockedCamera } from "../capture/locked-camera.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";

/** So often it is read [ms]. */
const EVERY = 250;
const theBench = await bench();
/** @type {LockedCamera | null} */
let camera = null;
/** @type {PatchSums | null} */
let zero = null;
/** @type {LiveView | null} */
let view = null;
let busy = "";
/** @type {unknown} */
let wrong = "";
let last = 0;
let sleep = () => {};

const video = () => /** @type {HTMLVideoElement} */ (document.getElementById("live-video"));

/** @param {Hand} hand @param {LockedCamera} own Reads as frames come, and never when none does. */
function follow(hand, own) {
  own.video.requestVideoFrameCallback(async (now) => {
    if (own !== camera) {
      return;
    }
    if (zero && now - last > EVERY) {
      last = now;
      try {
        [view, wrong] = [await theBench.patchDifference(zero, await own.patch(theBench)), ""];
      } catch (error) {
        [view, wrong] = [null, error];
      }
      hand.draw();
    }
    follow(hand, own);
  });
}

/** @param {Hand} hand */
async function begin(hand) {
  [busy, wrong, zero, view] = ["Opening the camera …", "", null, null];
  hand.draw();
  const own = new LockedCamera(video());
  try {
    await own.open();
    if (document.hidden) {
      throw new Error("The page went out of sight before the camera was ready. Open it again.");
    }
    camera = own;
    sleep = keepAwake();
    zero = await own.patch(theBench);
    follow(hand, own);
  } catch (error) {
    own.close();
    sleep();
    [camera, wrong] = [null, error];
  }
  busy = "";
  hand.draw();
}

/** @param {Hand} hand @param {boolean} anew Whether the exposure is found anew as well. */
async function setZero(hand, anew) {
  wrong = "";
  try {
    if (anew) {
      await camera?.lock();
    }
    zero = camera ? await camera.patch(theBench) : null;
  } catch (error) {
    wrong = error;
  }
  hand.draw();
}

/** @param {Hand} hand */
function stop(hand) {
  camera?.close();
  sleep();
  [camera, zero, view] = [null, null, null];
  hand.draw();
}

/** @param {Hand} hand */
function draw(hand) {
  show({
    title: "Live",
    about: hand.view.title,
    up: [to("photo"), "Photo"],
    main: html`${refusal(wrong || hand.wrong)}${happened(hand.news || busy)}
      <p class="soft">With the exposure locked, the middle of the picture tells how much brighter or darker it has become: the difference between two levels, and no level by itself. A photo tells that.</p>
      ${camera ? html`<section class="card" aria-live="polite" aria-label="Against zero"><p class="headline"><b class="big">${view?.words ?? "…"}</b> <span class="soft">${view ? `${view.doubt_words} stop` : nothing}</span></p></section>` : nothing}
      <video id="live-video" class="clip-video" muted playsinline aria-label="What the camera sees" ?hidden=${camera === null && busy === ""}></video>
      ${camera ? html`<div class="actions two"><button type="button" @click=${() => setZero(hand, false)}>Zero here</button><button type="button" @click=${() => setZero(hand, true)}>Lock anew</button></div>` : nothing}`,
    foot: camera
      ? html`<button type="button" class="main" @click=${() => stop(hand)}>Stop</button>`
      : html`<a class="button" href=${to("photo")}>Back</a><button type="button" class="main" ?disabled=${busy !== ""} @click=${() => begin(hand)}>Open the camera</button>`,
  });
}

withCamera(draw, async (hand) => {
  // Out of sight it measures nothing, and the camera is another's.
  addEventListener("pagehide", () => camera && stop(hand));
  document.addEventListener("visibilitychange", () => document.hidden && camera && stop(hand));
});
