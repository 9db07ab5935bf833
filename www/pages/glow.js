/**
 * Photos of the outside, lamp on and lamp off: the spots where light comes out, marked on the picture.
 * Not here: finding them, which the bench does; placing them on the drawing, which the person does (`tight.js`).
 *
 * @import { LeakPicture } from "../bench/shapes.js"
 */

import { bench } from "../bench/client.js";
import { pair } from "../capture/pair.js";
import { drawing } from "../plot/drawing.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { notices, refusal } from "../view/notice.js";

/** @type {{ on: File | null, off: File | null }} */
const files = { on: null, off: null };
/** @type {LeakPicture | null} */
let found = null;
/** @type {unknown} */
let wrong = "";
let busy = false;
/** The address of the picture that is shown. */
let shown = "";

/** @param {"on" | "off"} which @param {Event} event @param {() => void} drawn */
async function take(which, event, drawn) {
  files[which] = /** @type {HTMLInputElement} */ (event.target).files?.[0] ?? null;
  [found, wrong] = [null, ""];
  const { on, off } = files;
  if (!on || !off) {
    drawn();
    return;
  }
  busy = true;
  drawn();
  try {
    const [lit, dark] = await pair(on, off);
    const given = await (await bench()).leakPicture(lit, dark);
    if (files.on === on && files.off === off) {
      URL.revokeObjectURL(shown);
      shown = URL.createObjectURL(on);
      found = given;
    }
  } catch (error) {
    wrong = error;
  }
  busy = false;
  drawn();
}

/** @param {() => void} drawn Draws the page again. */
export function glow(drawn) {
  const one = (/** @type {"on" | "off"} */ which) => html`<label class="button file"><input type="file" accept="image/*" id="lamp-${which}" @change=${(/** @type {Event} */ event) => take(which, event, drawn)} /><span>Photo, lamp ${which}${files[which] ? ": chosen" : ""}</span></label>`;
  return html`<details ?open=${files.on !== null || files.off !== null}>
    <summary>Or with two long exposures</summary>
    <p>Phone on a support, dark room, as long an exposure as it gives (10 s or more), the same for both, focus held. One photo with the lamp on, one with it off.</p>
    <div class="actions">${one("on")}${one("off")}</div>
    ${busy ? html`<p role="status">One moment …</p>` : nothing}${refusal(wrong)}
    ${found
      ? html`<p role="status"><b>${found.words}</b> ${found.spots > 0 ? "Say which place it is on the drawing below." : ""}</p>
          <figure class="glow"><img src=${shown} alt="" />${drawing(found.drawing)}</figure>${notices(found.notices)}`
      : nothing}
  </details>`;
}
