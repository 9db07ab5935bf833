/**
 * The careful look: seal by seal on the open back, what is felt and what is left on the edge; the risk and what to fit.
 * Not here: what a look comes to, which the bench says; the lamp inside (`tight.js`).
 *
 * @import { PlaceView } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { back } from "../view/back.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { later } from "../view/later.js";
import { to } from "../view/links.js";
import { caution, happened, notices, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";
import { choose, enter, enteredAt, pathOf, walk } from "./place.js";

/** @param {Hand} hand @param {PlaceView} place */
function measures(hand, place) {
  const one = (/** @type {string} */ label, /** @type {"length" | "thickness"} */ what, /** @type {string} */ help) => field({
    label, id: what, decimal: true, help, value: hand.textAt(pathOf(hand, place.key, what), enteredAt(hand, place.key, what)), wrong: hand.wrongAt(pathOf(hand, place.key, what)),
    type: (text) => enter(hand, place.key, what, text),
  });
  return html`<details ?open=${place.replace !== "" || enteredAt(hand, place.key, "length") !== ""}>
    <summary>Measure for a new one</summary>
    ${one("Length, mm", "length", "along the edge that it has to cover")}${one("Thickness, mm", "thickness", "depth of the channel or gap, and a little more")}
  </details>`;
}

/** @param {Hand} hand @param {PlaceView} place */
function card(hand, place) {
  const { feels, residues } = hand.view.light_tight;
  return html`<section class="card" aria-labelledby="in-hand">
    <h2 id="in-hand">${place.number} · ${place.name}</h2>
    <p aria-live="polite"><b>${place.condition_words}</b>${place.risk ? html`. ${place.risk}` : nothing}</p>
    ${choice({ legend: "Press it with a clean finger or a wooden stick. It is …", name: `feel-${place.key}`, layout: "even", value: enteredAt(hand, place.key, "feel"), options: feels, pick: (key) => enter(hand, place.key, "feel", key) })}
    ${later(() => html`${choice({ legend: "On the edge that it presses on there is …", name: `residue-${place.key}`, layout: "even", value: enteredAt(hand, place.key, "residue"), options: residues, pick: (key) => enter(hand, place.key, "residue", key) })}
    ${measures(hand, place)}`)}
  </section>`;
}

/** @param {Hand} hand */
function hinge(hand) {
  const { hinge, hinges } = hand.view.light_tight;
  return hinges.length === 0
    ? nothing
    : html`<details>
        <summary>Hinge: ${hinge}</summary>
        ${choice({ legend: "Seen from behind, the hinge of the back is at the …", name: "hinge", layout: "even", value: hand.inspection.light_tight.hinge || hinge, options: hinges, pick: (key) => hand.change(["light_tight", "hinge"], key) })}
      </details>`;
}

/** @param {Hand} hand What stands below the place in hand: what was found so far, what to fit, how to read the drawing. */
function below(hand) {
  const view = hand.view.light_tight;
  const said = view.places.filter((one) => one.risk !== "");
  return html`${notices(view.notices)}
      ${said.length > 0
        ? html`<h2>What was found</h2>
          <ul class="rows">${said.map((one) => html`<li><b>${one.number} ${one.name}</b>: ${one.risk} <a href="${to("round", { area: one.area })}#${one.point}">In the round<span class="unseen">: ${one.name}</span></a></li>`)}</ul>`
        : nothing}
      ${view.replace.length > 0 ? html`<h2>To fit</h2><ul>${view.replace.map((line) => html`<li>${line}</li>`)}</ul>` : nothing}
      ${caution(view.caution)}
      <p class="small">White: sound. Grey: worn, and doing its work. Black: faulty or failed. Broken line: not looked at. Rays: light comes out here. Heavy broken outline: a test roll points here. What you find here is written into the round. (Common practice.)</p>
      <div class="actions"><button type="button" @click=${() => hand.undo()}>Undo the last change</button></div>`;
}

/** @param {Hand} hand */
function draw(hand) {
  const view = hand.view.light_tight;
  const places = view.places.filter((one) => one.pressed);
  const { place, next } = walk(places);
  show({
    title: "Seals",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(hand.wrong)}${happened(hand.news)}
      <p class="lead" aria-live="polite"><b>${view.progress}</b>. ${places.length > 0 ? "Open the back, look from behind, tap a place." : ""}</p>
      ${back({ made: view.drawing, places, value: place?.key ?? "", pick: (key) => choose(hand, key) })}
      ${hinge(hand)}
      ${place ? card(hand, place) : nothing}
      ${later(() => below(hand))}`,
    foot: html`<a class="button" href=${to("tight")}>Lamp inside</a>
      ${next
        ? html`<button type="button" class="main" @click=${() => choose(hand, next.key)}>Next: ${next.name}</button>`
        : html`<a class="button main" href=${to("inspection")}>Outcome</a>`}`,
  });
}

withCamera(draw);
