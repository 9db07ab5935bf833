/**
 * The blocks of the sheet as markup, the same as in the file that the shell writes.
 * Not here: what stands on the sheet, which the bench says; how it looks (`style/sheet.css`).
 *
 * @import { Block, Sheet } from "../bench/shapes.js"
 */

import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { drawing } from "../plot/drawing.js";
import { laterThan } from "./later.js";
import { overlaid } from "./overlaid.js";

/** @param {Block} block @param {(id: string) => string} addressOf Of a kept picture; empty where it is not on this phone. */
function piece(block, addressOf) {
  switch (block.kind) {
    case "title":
      return html`<h1>${block.text}</h1>`;
    case "heading":
      return html`<h2>${block.text}</h2>`;
    case "outcome":
      return html`<p class="call call-${block.key}">${block.text}</p>`;
    case "small":
      return html`<p class="small">${block.text}</p>`;
    case "list":
      return html`<ul>${block.items.map((item) => html`<li>${item}</li>`)}</ul>`;
    case "facts":
      return html`<dl>${block.rows.map(([name, value]) => html`<dt>${name}</dt><dd>${value}</dd>`)}</dl>`;
    case "table":
      return html`<table>
        <thead><tr>${block.items.map((head) => html`<th scope="col">${head}</th>`)}</tr></thead>
        <tbody>${block.rows.map((row) => html`<tr>${row.map((cell) => html`<td>${cell}</td>`)}</tr>`)}</tbody>
      </table>`;
    case "drawing":
      return block.drawing ? html`<figure>${drawing(block.drawing)}</figure>` : nothing;
    case "picture":
      return html`<figure class=${block.drawing ? "opening-figure" : "kept-picture"}>${overlaid({ address: addressOf(block.key), words: block.text, over: block.drawing })}<figcaption>${block.text}</figcaption></figure>`;
    case "label":
      return html`<div class="label">${block.drawing ? html`<figure>${drawing(block.drawing)}</figure>` : nothing}<div><p>${block.text}</p>${block.items.map((item) => html`<p class="small">${item}</p>`)}</div></div>`;
    default:
      return html`<p>${block.text}</p>`;
  }
}

/** @param {Sheet} sheet @param {(id: string) => string} addressOf */
export const paper = (sheet, addressOf) => html`<article class="sheet dense-${sheet.density}">${sheet.blocks.map(laterThan(4, (block) => piece(block, addressOf)))}</article>`;
