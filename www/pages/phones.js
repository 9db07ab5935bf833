/**
 * Phones that were calibrated, lens by lens, with every calibration and how they lie to one another; one can be thrown away.
 * Not here: calibrating (`photo.js`, within a meter run).
 *
 * @import { PhoneCalibration } from "../bench/shapes.js"
 */

import { bench } from "../bench/client.js";
import { calibrations, throwAway } from "../store/phones.js";
import { html } from "../vendor/lit-html/lit-html.js";
import { at } from "../view/links.js";
import { happened, notices, refusal } from "../view/notice.js";
import { run, show } from "../view/shell.js";

/** @type {Map<string, { all: PhoneCalibration[], said: string[] }>} */
let known = new Map();
/** @type {unknown} */
let wrong = "";
let news = "";

/** @param {PhoneCalibration} one */
async function drop(one) {
  [wrong, news] = ["", ""];
  try {
    await throwAway(one);
    news = "Thrown away. Levels that were read by it keep what they have.";
    await renew();
  } catch (error) {
    wrong = error;
  }
  draw();
}

/** @param {string} phone @param {{ all: PhoneCalibration[], said: string[] }} of */
const lens = (phone, { all, said }) => html`<h2>${phone}</h2>
  ${notices(said)}
  <ul class="rows">${[...all].reverse().map((one, i) => html`<li class="split"><span><b>${one.at.slice(0, 10)}</b>${i === 0 ? ", in use" : ""}<br />
      <small>${one.words}${one.against ? `, against ${one.against}` : ""}</small></span>
    <button type="button" aria-label="Throw away the calibration of ${one.at.slice(0, 10)}, ${phone}" @click=${() => drop(one)}>Throw away</button></li>`)}</ul>`;

function draw() {
  show({
    title: "Calibrated phones",
    up: [at("more"), "More"],
    main: html`${refusal(wrong)}${happened(news)}
      <p class="soft">A photo is a reference as good as what is known of the phone that took it. The latest calibration of a lens counts. Calibrate again after the phone's program was renewed.</p>
      ${known.size === 0
        ? html`<section class="card"><p>No phone was calibrated yet. It is done within a meter run: at a level, take the light from a photo, and enter what a trusted meter says of the same target.</p></section>`
        : [...known].map(([phone, of]) => lens(phone, of))}`,
    foot: html`<a class="button" href=${at("more")}>Back</a>`,
  });
}

async function renew() {
  const asked = await bench();
  const all = await calibrations();
  const names = [...new Set(all.map((one) => one.phone))];
  known = new Map(await Promise.all(names.map(async (name) => {
    const own = all.filter((one) => one.phone === name);
    return /** @type {[string, { all: PhoneCalibration[], said: string[] }]} */ ([name, { all: own, said: await asked.calibrationHistory(own) }]);
  })));
}

run(async () => {
  await renew();
  draw();
});
