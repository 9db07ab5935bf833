/**
 * The sheet: one page about one camera, two at most, to be printed; the person chooses which pictures stand on it.
 * Not here: what stands on it, which the bench says; its markup (`view/sheet-blocks.js`).
 *
 * @import { Sheet } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { to } from "../view/links.js";
import { paper } from "../view/sheet-blocks.js";
import { refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";
import { addressOf, pictureOf } from "./pictures.js";

const theBench = bench("paper");
/** @type {Sheet} */
let sheet;
/** @type {unknown} */
let wrong = "";

/** @param {Hand} hand Which of the camera's pictures are printed. */
function chosen(hand) {
  const { photos, findings } = hand.inspection;
  if (photos.length === 0) {
    return nothing;
  }
  const shows = (/** @type {string} */ id) => findings.find((one) => one.photos.includes(id))?.point.replaceAll("-", " ") ?? "picture";
  return html`<details class="unprinted"><summary>Pictures on the sheet: ${photos.filter((one) => one.on_sheet).length} of ${photos.length}</summary>
    <ul class="pictures">${photos.map((one, i) => html`<li>${pictureOf(one.id, shows(one.id), hand.draw)}
      <label class="tick"><input type="checkbox" .checked=${one.on_sheet} @change=${() => hand.change(["photos", i, "on_sheet"], !one.on_sheet)} /><span>On the sheet<span class="unseen">: ${shows(one.id)}, picture ${i + 1}</span></span></label></li>`)}</ul></details>`;
}

/** @param {Hand} hand */
function draw(hand) {
  show({
    title: "Sheet",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    // The printer and the phone name a saved sheet by this.
    name: sheet.title,
    main: html`${refusal(wrong)}${chosen(hand)}${paper(sheet, (id) => addressOf(id, hand.draw))}`,
    foot: html`<a class="button" href=${to("file")}>Hand on</a><button type="button" class="main" @click=${() => window.print()}>Print</button>`,
  });
  renew(hand);
}

let shown = "";

/** @param {Hand} hand Another window may have changed the camera. */
async function renew(hand) {
  const { revision, updated } = hand.inspection;
  if (shown === `${revision} ${updated}`) {
    return;
  }
  shown = `${revision} ${updated}`;
  try {
    sheet = await (await theBench).sheet(hand.inspection);
    wrong = "";
  } catch (error) {
    wrong = error;
  }
  draw(hand);
}

withCamera(draw, async (hand) => {
  shown = `${hand.inspection.revision} ${hand.inspection.updated}`;
  sheet = await (await theBench).sheet(hand.inspection);
});
