/**
 * One take, shot by shot: each can be put against another marked time, left out, or done again; the take can be removed.
 * Not here: catching a take (`listen.js`, `clip.js`); what its shots come to (`shutter.js`).
 *
 * @import { Place, Shot, ShotView, Take, TakeView } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { folded } from "../view/folded.js";
import { later, laterThan } from "../view/later.js";
import { side } from "../view/level-row.js";
import { asked, to } from "../view/links.js";
import { happened, notices, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { stepper } from "../view/stepper.js";
import { strip } from "../view/strip.js";
import { withCamera } from "./hand.js";
import { keptRecording } from "./kept-recording.js";
import { labelOf } from "./listen-parts.js";
import { sawMeanwhile } from "./meanwhile.js";
import { SPECIAL } from "./plan.js";
import { onward } from "./way.js";

/** Which take; the last one where there is no such number. */
const number = Number(asked.get("take") ?? 0);
/** @type {boolean[]} Which shots want a decision, as the page was opened: what is open must not shut while it is being used. */
const wanting = [];

/** @param {Hand} hand @returns {Place[]} What a shot can count for. */
const places = (hand) => [
  { mark: "", label: "none" },
  ...hand.view.shutter.marks.map(({ mark, label }) => ({ mark, label })),
  ...Object.entries(SPECIAL).map(([mark, label]) => ({ mark, label })),
];

/** @param {string[]} marks The address of the page that listens, for these marked times only. */
const again = (marks) => to("listen", { marks: [...new Set(marks)].filter((mark) => mark && !(mark in SPECIAL)).join(" ") });

/** @param {Hand} hand @param {number} at @param {Shot} shot @param {ShotView | undefined} said @param {number} i */
function card(hand, at, shot, said, i) {
  const path = (/** @type {string} */ name) => ["shutter", "takes", at, "shots", i, name];
  wanting[i] ??= !shot.marked || shot.dropped || (said?.mark_unsure ?? false);
  // What the person says is certain.
  const belongs = (/** @type {string} */ mark) => hand.apply((draft) => {
    const one = draft.shutter.takes[at]?.shots[i];
    if (one) {
      [one.marked, one.confirmed] = [mark, true];
    }
  }, "mark of a shot");
  return html`<section class="card shot ${shot.dropped ? "out" : ""}" id="shot-${i + 1}" tabindex="-1" aria-labelledby="name-${i}">
    <p class="small" id="name-${i}">Shot ${i + 1} at ${said?.at_words}${shot.dropped ? ", left out" : ""}</p>
    <p class="headline"><b class="big">${said?.time_words}</b>${said?.error_words ? html`<span class=${side(said.error_words)}>${said.full_words}</span>` : nothing}${said && said.state_words !== said.time_words ? html`<span class="soft">${said.state_words}</span>` : nothing}</p>
    ${said?.candidates_words ? html`<p>Would also fit: ${said.candidates_words}.</p>` : nothing}
    ${notices(said?.notices ?? [])}
    <details ?open=${wanting[i]}><summary>Counts for ${shot.marked ? labelOf(hand, shot.marked) : "no marked time"}<span class="unseen">, shot ${i + 1}</span>: change</summary>
      ${folded(() => html`${stepper({ label: "Counts for", group: `Shot ${i + 1}`, id: `marked-${i}`, places: places(hand), value: shot.marked, set: belongs })}
      ${said?.mark_unsure && shot.marked ? html`<div class="actions"><button type="button" @click=${() => belongs(shot.marked)}>It was ${labelOf(hand, shot.marked)}<span class="unseen">: shot ${i + 1}</span></button></div>` : nothing}
      ${refusal(hand.wrongAt(path("marked")))}
      <div class="actions two">
        <button type="button" @click=${() => hand.change(path("dropped"), !shot.dropped)}>${shot.dropped ? "Take it back in" : "Leave it out"}<span class="unseen">: shot ${i + 1}</span></button>
        ${shot.marked in SPECIAL || !shot.marked ? nothing : html`<a class="button" href=${again([shot.marked])}>Do it again<span class="unseen">: ${labelOf(hand, shot.marked)}</span></a>`}
      </div>`)}
    </details>
  </section>`;
}

/** @param {Hand} hand @param {number} at */
async function remove(hand, at) {
  if (await hand.apply((draft) => draft.shutter.takes.splice(at, 1), "take removed")) {
    location.replace(to("shutter", { removed: "" }));
  }
}

/** @param {Hand} hand @param {number} at @param {Take} take @param {TakeView | undefined} said */
function whole(hand, at, take, said) {
  const marks = take.shots.map((one) => one.marked);
  const shots = take.shots.map((shot, i) => {
    const seen = said?.shots[i];
    return { label: shot.marked ? labelOf(hand, shot.marked) : "–", words: seen?.error_words || seen?.time_words || "", out: shot.dropped, href: `#shot-${i + 1}` };
  });
  return html`
    <section class="card"><p><b>${said?.title}</b></p>
      ${notices(said?.notices ?? [])}
      <details><summary>How it was caught</summary>
        <ul><li>from ${take.source}, ${new Date(take.started).toLocaleString()}</li>${take.capture.map((line) => html`<li>${line}</li>`)}
          ${take.signal === "sound" && take.mirror ? html`<li>the mirror moved with the shots</li>` : nothing}</ul>
      </details>
    </section>
    ${asked.has("new") ? sawMeanwhile(hand) : nothing}
    ${keptRecording(hand, at, take)}
    ${strip({ shots, name: "In the order they came", empty: "No shot is in this take." })}
    <div class="points">${repeat(take.shots, (_, i) => i, laterThan(1, (shot, i) => card(hand, at, shot, said?.shots[i], i)))}</div>
    ${later(() => html`<div class="actions">
      ${marks.some((mark) => mark && !(mark in SPECIAL)) ? html`<a class="button" href=${again(marks)}>Do these times again</a>` : nothing}
      <button type="button" @click=${() => remove(hand, at)}>Remove this take</button>
    </div>`)}`;
}

/** @param {Hand} hand */
function draw(hand) {
  const { takes } = hand.inspection.shutter;
  const at = (number > 0 ? number : takes.length) - 1;
  const take = takes[at];
  show({
    title: take ? `Take ${at + 1}` : "Take",
    about: hand.view.title,
    up: [to("shutter"), "Shutter"],
    main: html`${refusal(hand.wrong)}${happened(hand.news || (asked.has("new") ? "Kept. A shot that stands against the wrong time can be moved here." : ""))}
      ${take ? whole(hand, at, take, hand.view.shutter.takes[at]) : html`<section class="card"><p><b>There is no such take.</b> It may have been removed.</p></section>`}`,
    foot: html`<button type="button" @click=${() => hand.undo()}>Undo</button>${onward(hand, "button main") ?? html`<a class="button main" href=${to("shutter")}>To the marked times</a>`}`,
  });
}

withCamera(draw);
