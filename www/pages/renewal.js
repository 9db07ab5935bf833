/**
 * What a page says of the program itself: that a new version is ready, and whether every page opens without a connection.
 * Not here: how it is kept (`offline/program.js`).
 *
 * @import { State } from "../offline/program.js"
 */

import { program, state, update } from "../offline/program.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { refusal } from "../view/notice.js";

/** @type {State} */
let known = { possible: true, kept: false, newer: false };
let wrong = "";

/** @param {() => void} draw Looks now and whenever something becomes of the program. */
export async function followProgram(draw) {
  program.addEventListener("changed", async () => {
    known = await state();
    draw();
  });
  known = await state();
}

/** @param {() => void} draw The offer of a new version; nothing where there is none. */
export function renewal(draw) {
  const take = async () => {
    wrong = await update();
    draw();
  };
  return known.newer
    ? html`<section class="card" aria-label="New version">
        <p>A new version is ready. It is used from now on when you say so; your cameras stay as they are.</p>
        ${refusal(wrong)}
        <div class="actions"><button type="button" @click=${take}>Use the new version</button></div>
      </section>`
    : nothing;
}

/** @returns {string} Whether it works without a connection, in a sentence. */
export function keptWords() {
  if (!known.possible) {
    return "This browser keeps no program from this address, so each visit needs a connection. An address that begins with https, outside a private window, is what it wants.";
  }
  return known.kept
    ? "The whole program is kept on this phone: every page opens without a connection."
    : "The program is being kept on this phone; until that is done, a page that was not open yet needs a connection.";
}
