/**
 * A kept picture on the page, as soon as the phone has found it.
 * Not here: taking one in or off (`finding.js`).
 */

import { url } from "../store/photos.js";
import { html } from "../vendor/lit-html/lit-html.js";

/** @type {Map<string, string>} Addresses by id; empty while it is looked for, `-` where it is not on this phone. */
const addresses = new Map();

/**
 * @param {string} id
 * @param {() => void} again Draws the page once more.
 * @returns {string} Its address; empty while it is looked for, and where it is not on this phone.
 */
export function addressOf(id, again) {
  if (!addresses.has(id)) {
    addresses.set(id, "");
    url(id)
      .catch(() => undefined)
      .then((address) => {
        addresses.set(id, address ?? "-");
        again();
      });
  }
  const address = addresses.get(id) ?? "";
  return address === "-" ? "" : address;
}

/**
 * @param {string} id
 * @param {string} words What it shows.
 * @param {() => void} again Draws the page once more.
 */
export function pictureOf(id, words, again) {
  addressOf(id, again);
  const address = addresses.get(id);
  return address === "-" ? html`<p class="small">This picture is not on this phone.</p>` : address ? html`<img src=${address} alt=${words} />` : html`<p class="small">One moment …</p>`;
}
