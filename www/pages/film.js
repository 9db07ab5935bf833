/**
 * What film gets: the film in hand, which times are safe for which film and with which compensation, plot and figures.
 * Not here: any of the figures, which the bench works out.
 *
 * @import { Choice, FilmError, FilmView, Worked } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { drawing } from "../plot/drawing.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { later, laterThan } from "../view/later.js";
import { to } from "../view/links.js";
import { happened, notices, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";

/** @type {Choice[]} */
let films = [];

/** @param {Hand} hand */
function inHand(hand) {
  const { film } = hand.inspection;
  const side = (/** @type {string} */ label, /** @type {"under" | "over"} */ name) =>
    field({ label, id: `latitude-${name}`, decimal: true, value: hand.textAt(["film", name], film[name]), wrong: hand.wrongAt(["film", name]), type: (typed) => hand.change(["film", name], typed) });
  return html`<h2>The film in hand</h2>
    ${choice({ legend: "Kind of film", name: "film", layout: "wide", value: film.kind, options: [...films, { key: "", words: "not said: all three are shown", help: "" }], pick: (key) => hand.change(["film", "kind"], key) })}
    <details ?open=${film.under !== "" || film.over !== ""}><summary>Own latitude</summary>
      <div class="pair">${side("Forgives under, in stops", "under")}${side("Forgives over, in stops", "over")}</div>
      <p class="small">Both together stand for the usual latitude of the film in hand.</p></details>`;
}

/** @param {Worked} result @param {FilmError} row */
function figures(result, row) {
  const only = result.films.find((film) => film.in_hand);
  const shown = row.verdicts.filter((one) => !only || one.film === only.film);
  return html`<li>
    <div class="split"><b>${row.label}</b><span>${row.words} <span class="soft">${row.doubt_words}</span></span></div>
    ${row.why_not ? html`<p class="small">Cannot tell: ${row.why_not}</p>` : nothing}
    ${shown.map((one) => html`<div class="split small"><span>${result.films.find((film) => film.film === one.film)?.words}</span><span class=${one.words === "safe" ? "" : "wants"}>${one.words}</span></div>`)}
    ${row.cells.length > 1
      ? html`<details><summary class="small">By f-number and light<span class="unseen"> at ${row.label}</span></summary>
          <dl class="cells">${row.cells.map((cell) => html`<dt>${cell.label}</dt><dd>${cell.words} ${cell.doubt_words}${cell.opening_measured ? nothing : html` <span class="soft">opening as marked</span>`}</dd>`)}</dl></details>`
      : nothing}
  </li>`;
}

/** @param {Worked} result @param {FilmView} view */
function usage(result, view) {
  const only = result.films.find((film) => film.in_hand);
  const said = result.film_sentences.filter((one) => one.usage === view.usage && (!only || one.film === only.film));
  const rows = result.film_error.filter((row) => row.usage === view.usage);
  return html`<section aria-labelledby=${view.usage}>
    <h2 id=${view.usage} tabindex="-1">${view.words}</h2>
    <ul class="said">${said.map((one) => html`<li>${one.text}</li>`)}</ul>
    ${view.plot ? html`<figure>${drawing(view.plot)}</figure>` : nothing}
    <details><summary>Every figure</summary><ul class="rows">${rows.map((row) => figures(result, row))}</ul></details>
  </section>`;
}

/** @param {Worked | null} result */
const forgives = (result) => html`<details><summary>What each film forgives</summary>
  <dl>${(result?.films ?? []).map((film) => html`<dt>${film.words}</dt><dd>${film.latitude_words} <span class="source">Source: ${film.source}.</span></dd>`)}</dl>
  <p class="small">A time is called safe where the chance that film gets no more and no less than that is 95 % or better, with the doubt of everything that was measured.</p></details>`;

/** @param {Hand} hand */
function draw(hand) {
  const { result } = hand.inspection;
  const views = hand.view.film;
  show({
    title: "What film gets",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(hand.wrong)}${happened(hand.news)}
      <p class="soft">Shutter, openings and meter together, against what each film forgives.</p>
      ${result && views.length > 0
        ? views.map(laterThan(1, (view) => usage(result, view)))
        : html`<section class="card"><p class="headline"><b class="big">Not told yet</b></p><p>Measure the marked times, or the meter against a reference, and it stands here.</p></section>`}
      ${later(() => notices(result?.film_notices ?? []))}
      ${later(() => inHand(hand))}${later(() => forgives(result))}`,
    foot: html`<a class="button" href=${to("shutter")}>Shutter</a><a class="button main" href=${to("inspection")}>Outcome</a>`,
  });
}

withCamera(draw, async () => {
  films = (await (await bench()).lists()).films;
});
