/**
 * A call or an outcome: a word in a box, whose line says how sure it is (solid, heavy, dashed).
 * Not here: which word it is.
 */

import { html } from "../vendor/lit-html/lit-html.js";

/**
 * @param {string} key
 * @param {string} words
 */
export const call = (key, words) => html`<span class="call call-${key}">${words}</span>`;
