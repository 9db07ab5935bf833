/**
 * The shutter, judged: the answer first, every marked time below, what to do next at the foot.
 * Not here: catching shots (`listen.js`, `clip.js`); one take shot by shot (`take.js`).
 *
 * @import { Lists } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { later } from "../view/later.js";
import { asked, to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";
import { answer, settings, takes, times, ways } from "./shutter-parts.js";

/** @type {Lists} */
let lists;

/** @param {Hand} hand */
function draw(hand) {
  const { camera, result, shutter } = hand.inspection;
  const judged = shutter.takes.length > 0 ? (result?.shutter ?? null) : null;
  const removed = asked.has("removed") ? html`<span>The take was removed.</span> <button type="button" @click=${() => hand.undo()}>Undo</button>` : "";
  show({
    title: "Shutter",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(hand.wrong)}${happened(hand.news || removed)}
      ${camera.times.length === 0
        ? html`<section class="card"><p><b>Which times does the dial have?</b> Shots are put against the marked times, so these come first.</p><p><a class="tap" href=${to("camera")}>Enter the marked times</a></p></section>`
        : nothing}
      ${judged ? answer(judged) : ways()}
      <div class="columns"><div>${judged ? times(hand, judged) : nothing}${later(() => takes(hand))}</div><div>${later(() => settings(hand, lists))}</div></div>
      ${shutter.takes.length > 0 ? later(() => html`<div class="actions"><button type="button" @click=${() => hand.undo()}>Undo the last change</button></div>`) : nothing}`,
    foot: html`<a class="button" href=${to("clip")}>Clip</a><a class="button main" href=${to("listen")}>Listen</a>`,
  });
}

withCamera(draw, async () => {
  lists = await (await bench()).lists();
});
