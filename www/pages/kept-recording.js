/**
 * A take's recording where the person keeps it: to be heard, worked out again (as when the build was entered later), handed on,
 * or thrown away.
 * Not here: keeping it in the first place (`listen.js`); what the bench makes of it.
 *
 * @import { Shot, Take } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { dropRecording, getRecording } from "../store/recordings.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { happened, refusal } from "../view/notice.js";

/** A shot is the same as before where it begins no further off than this [s]. */
const SAME = 0.05;

/** @type {Blob | null | undefined} `null` where it is not on this phone; `undefined` until it was looked for. */
let blob;
let address = "";
let busy = "";
/** @type {unknown} */
let wrong = "";
let asked = "";

/** @param {Hand} hand @param {string} key */
async function look(hand, key) {
  asked = key;
  blob = (await getRecording(key).catch(() => undefined)) ?? null;
  address = blob ? URL.createObjectURL(blob) : "";
  hand.draw();
}

/** What the person decided about a shot stays decided. @param {readonly Shot[]} before @param {Shot[]} now */
function carryOver(before, now) {
  for (const shot of now) {
    const same = before.find((one) => Math.abs(one.start_s - shot.start_s) < SAME);
    if (same) {
      [shot.marked, shot.dropped, shot.confirmed] = [same.marked, same.dropped, same.confirmed];
    }
  }
}

/** @param {Hand} hand @param {number} at @param {Take} take @param {Blob} from */
async function again(hand, at, take, from) {
  [busy, wrong] = ["Working out the shots …", ""];
  hand.draw();
  try {
    const { take: measured } = await (await bench()).measureWav(new Uint8Array(await from.arrayBuffer()), {
      started: take.started, signal: take.signal, source: take.source, capture: take.capture, build: hand.inspection.shutter.build,
      mirror: take.mirror, asked: take.asked, duty: "", capture_rate: "", tone_steps: [],
    });
    carryOver(take.shots, measured.shots);
    await hand.apply((draft) => { draft.shutter.takes[at] = { ...measured, kept: take.kept }; }, "take worked out again");
    busy = "Worked out again; what was put against a time or left out stays so.";
  } catch (error) {
    [busy, wrong] = ["", error];
  }
  hand.draw();
}

/** @param {Hand} hand @param {number} at @param {Take} take */
async function away(hand, at, take) {
  if (await hand.apply((draft) => { const there = draft.shutter.takes[at]; if (there) { there.kept = ""; } }, "recording thrown away")) {
    await dropRecording(take.kept).catch(() => {});
    URL.revokeObjectURL(address);
  }
}

/** @param {Hand} hand @param {number} at @param {Take} take Nothing where no recording is kept. */
export function keptRecording(hand, at, take) {
  if (!take.kept) {
    return nothing;
  }
  if (asked !== take.kept) {
    look(hand, take.kept);
  }
  const from = blob;
  if (!from) {
    return blob === null ? html`<p class="small">The recording of this take was kept, but not on this phone.</p>` : nothing;
  }
  return html`<section class="card" aria-label="The recording of this take">
    <p><b>The recording is kept on this phone.</b> It goes into no file.</p>
    <audio controls preload="metadata" src=${address}></audio>
    ${refusal(wrong)}${happened(busy)}
    <div class="actions">
      <button type="button" @click=${() => again(hand, at, take, from)}>Work it out again</button>
      <a class="button" href=${address} download=${`take-${take.started.slice(0, 19).replace(/[^0-9]/g, "")}.wav`}>Save it as a file</a>
      <button type="button" @click=${() => away(hand, at, take)}>Throw it away for good</button>
    </div>
  </section>`;
}
