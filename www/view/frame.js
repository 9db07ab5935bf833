/** The frame of every page: head, foot, theme, the camera in hand, and one place for errors. Not here: what a page shows. */
import { html, render } from "../vendor/lit-html/lit-html.js";

/** The key of the inspection in hand, from the address. */
export const key = new URLSearchParams(location.search).get("i") ?? "";

/** @param {string} page @param {Record<string, string>} [more] @returns {string} The address of a page about the camera in hand. */
export function to(page, more = {}) {
  const query = new URLSearchParams(key ? { i: key, ...more } : more).toString();
  return `${page}.html${query ? `?${query}` : ""}`;
}

/** @param {string} id */
function part(id) {
  const found = document.getElementById(id);
  if (!found) {
    throw new Error(`the page has no ${id}`);
  }
  found.replaceChildren();
  return found;
}

const parts = { head: part("head"), main: part("main"), foot: part("foot") };

/** @param {string} theme Puts the look on; `auto` leaves it to the phone. */
export function wear(theme) {
  document.documentElement.dataset.theme = theme;
}

/**
 * Shows a page.
 *
 * @param {{ title: string, back?: [string, string] | null, main: unknown, foot?: unknown }} what
 */
export function show({ title, back = null, main, foot = "" }) {
  render(html`<h1>${title}</h1>${back ? html`<a href=${back[0]}>${back[1]}</a>` : ""}`, parts.head);
  render(main, parts.main);
  render(foot, parts.foot);
}

/** @param {unknown} error @returns {string} */
export function sentence(error) {
  const text = error instanceof Error ? error.message : String(error);
  const first = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?]$/.test(first) ? first : `${first}.`;
}

/** @param {unknown} error A box where an error happened; nothing where there is none. */
export function alertBox(error) {
  return error ? html`<p class="alert" role="alert">${sentence(error)}</p>` : "";
}

/** @param {() => Promise<void>} start Runs a page; what goes wrong is said in its place. */
export async function run(start) {
  try {
    await start();
  } catch (error) {
    show({ title: "Lampblack", back: ["index.html", "Bench"], main: alertBox(error) });
  }
}
