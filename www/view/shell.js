/**
 * The frame of every page: title and what it is about at the top, the actions at the foot, and a place for what went wrong.
 * Not here: what a page shows, which its module in `pages` says.
 */

import { keep } from "../offline/program.js";
import { html, nothing, render } from "../vendor/lit-html/lit-html.js";
import { drawn, first, settled, whole } from "./later.js";
import { at } from "./links.js";
import { refusal } from "./notice.js";
import { Drawing } from "./stepwise.js";

/**
 * @param {string} id
 * @returns {HTMLElement} A part of the page.
 */
function part(id) {
  const found = document.getElementById(id);
  if (!found) {
    throw new Error(`the page has no ${id}`);
  }
  return found;
}

/** @type {{ head: HTMLElement, foot: HTMLElement } | null} */
let parts = null;
/** Draws what stands around the main part, which changes with it. */
let around = () => {};

/** The page takes the place of what stood there before the module came. */
const drawing = new Drawing((drawn) => {
  parts = { head: part("head"), foot: part("foot") };
  parts.head.replaceChildren();
  parts.foot.replaceChildren();
  part("main").replaceChildren(drawn);
  around();
});
first(drawing);

/**
 * Shows a page: in steps until it has shown once, and at once from then on.
 *
 * @param {object} what
 * @param {string} what.title
 * @param {[address: string, words: string]} what.up The page above this one.
 * @param {string} [what.about] Whom it is about, for the window's title.
 * @param {string} [what.name] The window's title, where it is another than these make.
 * @param {unknown} what.main
 * @param {unknown} what.foot The actions, the main one last.
 */
export function show({ title, up, about = "", name = [title, about, "Lampblack"].filter((text) => text).join(" – "), main, foot }) {
  const before = parts;
  around = () => {
    document.title = name;
    if (parts) {
      render(html`<h1>${title}</h1><a class="up" href=${up[0]}>${up[1]}</a>`, parts.head);
      render(foot, parts.foot);
    }
  };
  drawing.draw(main);
  if (before) {
    around();
  }
}

/** @returns {Promise<void>} When the page has taken the place of what stood there before. */
export const inPlace = () => drawing.inPlace();

/** @param {unknown} error The page cannot be shown at all. */
function fail(error) {
  show({
    title: document.querySelector("h1")?.textContent ?? "Lampblack",
    up: [at("index"), "Bench"],
    main: refusal(error),
    foot: html`<a class="button" href=${at("index")}>To the bench</a><button type="button" class="main" @click=${() => location.reload()}>Try again</button>`,
  });
}

/** @param {() => Promise<unknown>} start Runs a page; what goes wrong is said in its place. */
export async function run(start) {
  // What can be read already is painted before work begins that would hold it up.
  await drawn();
  try {
    await start();
    await inPlace();
    goToPlace();
  } catch (error) {
    fail(error);
  }
  // What is fetched then would keep the page's last parts waiting.
  await settled();
  keep();
}

/** The place that the address points at was not there yet when the browser looked for it. */
function goToPlace() {
  if (location.hash.length > 1) {
    whole();
  }
  const place = location.hash.length > 1 ? document.getElementById(decodeURIComponent(location.hash.slice(1))) : null;
  if (place) {
    place.scrollIntoView();
    place.focus({ preventScroll: true });
  }
}

/** Moves on to a part of the page, gently where the person has nothing against motion. @param {Element | null} part */
export function glide(part) {
  const still = matchMedia("(prefers-reduced-motion: reduce)").matches;
  part?.scrollIntoView({ behavior: still ? "auto" : "smooth", block: "start" });
}

export { nothing };
