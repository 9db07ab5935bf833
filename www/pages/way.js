/**
 * The strip below the head of every page that is opened within the round: where one is, what comes next, how long the rest takes.
 * Not here: the steps (`itinerary.js`); the pages themselves, which know nothing of it.
 *
 * @import { Hand } from "./hand.js"
 * @import { Preference } from "./itinerary.js"
 */

import { html, nothing, render } from "../vendor/lit-html/lit-html.js";
import { asked, to } from "../view/links.js";
import { inPlace } from "../view/shell.js";
import { itinerary, leftOf, nextOf, pageOf, preferred } from "./itinerary.js";

/** The step of the round that this page belongs to; empty outside it. */
const here = asked.get("r") ?? "";
/** @type {Preference} */
let preference = { order: [], without: [] };
/** @type {HTMLElement | null} */
let place = null;
/** Whether the page itself shows the way on. */
let shown = false;

/** @param {Hand} hand */
function draw(hand) {
  const head = document.getElementById("head");
  if (!head) {
    return;
  }
  if (!place) {
    place = document.createElement("nav");
    place.className = "way";
    place.setAttribute("aria-label", "The round");
    head.after(place);
  }
  const steps = itinerary(hand.view, preference);
  const at = steps.findIndex((step) => step.key === here) + 1;
  render(html`<a href=${to("steps")}>${at > 0 ? `Step ${at} of ${steps.length}` : "The round"}<span class="soft">, ${leftOf(steps)}</span></a>${shown ? nothing : onward(hand)}`, place);
}

/** @param {Hand} hand @param {string} [look] Class of the link. @returns {unknown} The way to the next step; nothing outside the round. */
export function onward(hand, look = "") {
  if (!here) {
    return null;
  }
  shown ||= look !== "";
  const next = nextOf(itinerary(hand.view, preference), here);
  return html`<a class=${look} href=${next ? pageOf(next.key) : to("inspection")}><span>${next ? html`Next: ${next.name}` : "To the outcome"}</span></a>`;
}

/**
 * @param {(hand: Hand) => void} page Draws the page.
 * @returns {Promise<(hand: Hand) => void>} The same, with the strip where the page is part of the round.
 */
export async function withWay(page) {
  if (!here) {
    return page;
  }
  preference = await preferred();
  return (hand) => {
    page(hand);
    // Never before the page itself, which it would push down.
    inPlace().then(() => draw(hand), () => {});
  };
}
