/**
 * A new camera: only its kind is asked.
 * Not here: the rest of who it is (`camera.js`).
 *
 * @import { Lists } from "../bench/shapes.js"
 */

import { bench } from "../bench/client.js";
import * as inspections from "../store/inspections.js";
import { askOnce } from "../store/persist.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { at, to } from "../view/links.js";
import { refusal } from "../view/notice.js";
import { run, show } from "../view/shell.js";

/** @type {unknown} */
let wrong = "";

/** @param {Lists} lists @param {string} kind */
async function begin(lists, kind) {
  try {
    const made = await (await bench()).newInspection(kind);
    const { key } = await inspections.add(made.inspection);
    // The camera is kept by now; whether the phone promises more must not hold anybody up.
    askOnce().catch(() => null);
    location.href = to("camera", {}, key);
  } catch (error) {
    wrong = error;
    draw(lists);
  }
}

/** @param {Lists} lists */
function draw(lists) {
  show({
    title: "New camera",
    up: [at("index"), "Bench"],
    main: html`<p>What kind is it? Only this is needed; the rest can come later.</p>
      ${refusal(wrong)}
      <ul class="kinds">
        ${lists.kinds.map((one) => html`<li><button type="button" @click=${() => begin(lists, one.key)}><b>${one.words}</b><small>${one.help}</small></button></li>`)}
      </ul>`,
    foot: nothing,
  });
}

run(async () => {
  const theBench = await bench();
  draw(await theBench.lists());
  // The module comes while somebody chooses; what is wrong with it is said when it is asked.
  theBench.version().catch(() => {});
});
