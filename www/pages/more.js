/**
 * The look, the program itself, the constants with their reasons, the cautions of the bench, where things are, keys.
 * Not here: anything of one camera.
 *
 * @import { Lists } from "../bench/shapes.js"
 */

import { bench } from "../bench/client.js";
import * as settings from "../store/settings.js";
import { html } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { at } from "../view/links.js";
import { run, show } from "../view/shell.js";
import { followProgram, keptWords, renewal } from "./renewal.js";

const LOOKS = { auto: "as the phone", light: "light", dark: "dark", contrast: "high contrast" };
const KEYS = [
  ["Tab", "goes from control to control; the first one on every page skips to its content"],
  ["arrow keys", "go through a stepper's places and through choices"],
  ["space", "presses a button, switches a mark on or off"],
  ["home, end", "go to the first and last place of a stepper"],
];

/** @param {Lists} lists @param {string} key */
async function wear(lists, key) {
  await settings.set("theme", key);
  document.documentElement.dataset.theme = key;
  draw(lists);
}

/** @param {Lists} lists */
function draw(lists) {
  const chosen = document.documentElement.dataset.theme ?? settings.theme();
  show({
    title: "More",
    up: [at("index"), "Bench"],
    main: html`${renewal(() => draw(lists))}
      ${choice({ legend: "Look", name: "theme", layout: "even", value: chosen, options: Object.entries(LOOKS).map(([key, words]) => ({ key, words })), pick: (key) => wear(lists, key) })}
      <h2>Kept on this phone</h2>
      <ul class="rows">
        <li class="leads"><a href=${at("file")}>Files: take in, back up the bench</a></li>
        <li class="leads"><a href=${at("phones")}>Calibrated phones</a></li>
        <li class="leads"><a href=${at("bin")}>Bin: removed cameras</a></li>
      </ul>
      <h2>The program</h2>
      <p>The browser's menu puts Lampblack on the home screen.</p>
      <p class="steady">${keptWords()}</p>
      <p><a class="tap" href=${at("reset")}>Reset the program, keep my cameras</a></p>
      <h2>What ± means</h2>
      <p>Each ± is an expanded uncertainty at 95 %. <b>Within</b> and <b>outside</b> are said only where that is at least 95 % likely; else the word is <b>cannot tell</b>, with what would settle it.</p>
      <p>Over and under are what film gets: a meter that reads low makes film come out over-exposed.</p>
      <h2>Constants, and why these</h2>
      <ul class="texts">${lists.constants.map((one) => html`<li>${one}</li>`)}
        ${lists.references.filter((one) => one.constants).map((one) => html`<li><b>${one.words}:</b> ${one.constants}</li>`)}</ul>
      <h2>Cautions of the bench</h2>
      <ul class="texts">${lists.cautions.map((one) => html`<li class="caution">${one}</li>`)}</ul>
      <h2>Where it comes from</h2>
      <p>Tolerances, and what a point looks like when it is worn or faulty, are common practice at the bench, and no standard says them. Where a standard or a published source is behind a line, it is named there.</p>
      <h2>Keyboard</h2>
      <dl class="keys">${KEYS.map(([name, words]) => html`<dt>${name}</dt><dd>${words}</dd>`)}</dl>
      <p class="small">${lists.program}. Nothing leaves this phone unless you hand it on.</p>`,
    foot: html`<a class="button" href=${at("index")}>To the bench</a>`,
  });
}

run(async () => {
  const lists = await (await bench()).lists();
  await followProgram(() => draw(lists));
  draw(lists);
});
