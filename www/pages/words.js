/**
 * The texts that are handed on: three lengths for the listing and the note for the service bench, each to be copied or changed. What
 * the person changed stands, and is marked where something was found or measured since.
 * Not here: putting a text together, which the bench does.
 *
 * @import { Said, TextView } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { repeat } from "../vendor/lit-html/directives/repeat.js";
import { field } from "../view/field.js";
import { laterThan } from "../view/later.js";
import { evidence, to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { withCamera } from "./hand.js";

/** @param {Hand} hand @param {string} key */
const placeOf = (hand, key) => hand.inspection.texts.findIndex((one) => one.key === key);

/** @param {Hand} hand @param {TextView} text @param {string} typed The first change keeps which text it was made from. */
function change(hand, text, typed) {
  const i = placeOf(hand, text.key);
  if (i >= 0) {
    return hand.change(["texts", i, "text"], typed);
  }
  const edited = { key: text.key, text: typed, made_from: text.made, at: new Date().toISOString() };
  return hand.apply((draft) => {
    const at = draft.texts.findIndex((one) => one.key === text.key);
    draft.texts.splice(at < 0 ? draft.texts.length : at, at < 0 ? 0 : 1, edited);
  }, `text, ${text.name.toLowerCase()}`);
}

/** @param {Hand} hand @param {TextView} text The person's own text goes; the one of today stands again. */
const drop = (hand, text) => hand.apply((draft) => (draft.texts = draft.texts.filter((one) => one.key !== text.key)), "text as it is made");

/** @param {Hand} hand @param {TextView} text The person has seen what is new, and keeps the own text. */
const keep = (hand, text) => hand.apply((draft) => {
  const one = draft.texts.find((other) => other.key === text.key);
  if (one) {
    one.made_from = text.made;
  }
}, "text kept");

/** @param {Hand} hand @param {string} words @param {string} name */
async function copy(hand, words, name) {
  try {
    await navigator.clipboard.writeText(words);
    hand.news = `Copied: ${name.toLowerCase()}.`;
  } catch {
    hand.wrong = "This browser does not let the page copy: mark the text and copy it by hand.";
  }
  hand.draw();
}

/** @param {readonly Said[]} said */
const sources = (said) => html`<details><summary>Where each sentence comes from</summary>
  <ol class="said">${said.map((one) => html`<li>${one.text}
    <span class="small">${one.evidence.length === 0
      ? "who the camera is, and how the check is read"
      : one.evidence.filter((first, i, all) => all.findIndex((other) => evidence(other) === evidence(first)) === i)
          .map((other, i) => html`${i > 0 ? ", " : nothing}<a href=${evidence(other)}>${other.point.replaceAll("-", " ") || other.about}</a>`)}</span></li>`)}</ol></details>`;

/** @param {Hand} hand @param {TextView} text */
function card(hand, text) {
  const i = placeOf(hand, text.key);
  const words = i >= 0 ? (hand.inspection.texts[i]?.text ?? text.text) : text.text;
  return html`<section class="card text" id=${text.key} tabindex="-1" aria-labelledby="name-${text.key}">
    <h2 id="name-${text.key}">${text.name}</h2>
    <p class="small">${text.purpose}</p>
    ${field({ label: `Text: ${text.name.toLowerCase()}`, id: `text-${text.key}`, long: true, value: words, wrong: i >= 0 ? hand.wrongAt(["texts", i, "text"]) : "", type: (typed) => change(hand, text, typed) })}
    <p class="small state" role="status">${text.outdated ? html`<b>Changed by you, and something was found or measured since.</b>` : text.edited ? "Changed by you." : "As it was put together."}</p>
    ${text.outdated ? html`<details><summary>As it is put together today</summary><p class="today">${text.made}</p></details>` : nothing}
    <div class="actions">
      <button type="button" @click=${() => copy(hand, words, text.name)}>Copy<span class="unseen">: ${text.name}</span></button>
      ${text.edited ? html`<button type="button" @click=${() => drop(hand, text)}>Put together anew<span class="unseen">: ${text.name}</span></button>` : nothing}
      ${text.outdated ? html`<button type="button" @click=${() => keep(hand, text)}>Keep mine<span class="unseen">: ${text.name}</span></button>` : nothing}
    </div>
    ${text.key === "full" ? sources(hand.inspection.result?.wording.said ?? []) : nothing}
  </section>`;
}

/** @param {Hand} hand */
function draw(hand) {
  show({
    title: "Words",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(hand.wrong)}${happened(hand.news)}
      <p class="soft">Made from what was found and measured, and from nothing else. Change what you like: it stays, and is marked where something comes in later.</p>
      ${repeat(hand.view.texts, (text) => text.key, laterThan(1, (text) => card(hand, text)))}`,
    foot: html`<a class="button" href=${to("sheet")}>Sheet</a><a class="button main" href=${to("file")}>Hand on</a>`,
  });
}

withCamera(draw);
