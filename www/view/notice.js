/**
 * Sentences that a person should not miss: what was refused, what to be careful with, what has just happened.
 * Not here: the sentences themselves, which the bench, the store and the pages say.
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";

/**
 * @param {unknown} error
 * @returns {string} As a sentence to read.
 */
export function sentence(error) {
  const text = error instanceof Error ? error.message : String(error);
  const first = text.charAt(0).toUpperCase() + text.slice(1);
  return /[.!?”]$/.test(first) ? first : `${first}.`;
}

/** @param {unknown} error What was refused, where it was entered; nothing where there is none. @param {string} [id] */
export function refusal(error, id) {
  return error ? html`<p class="refusal" role="alert" id=${id ?? nothing}>${sentence(error)}</p>` : nothing;
}

/** @param {string} text Nothing where there is none. */
export function caution(text) {
  return text ? html`<p class="caution"><b>Careful.</b> ${text}</p>` : nothing;
}

/** @param {readonly string[]} texts What to know before trusting a result. */
export function notices(texts) {
  return texts.map((text) => html`<p class="notice">${text}</p>`);
}

/**
 * What has just happened, said aloud too; the place stays, so that it is heard.
 *
 * @param {unknown} words
 */
export function happened(words) {
  return html`<div class="happened" role="status">${words || nothing}</div>`;
}
