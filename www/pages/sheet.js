/** The sheet, block by block, to be printed. Not here: what stands on it, which the bench says. */
import { html } from "../vendor/lit-html/lit-html.js";
import { bench } from "../bench/client.js";
import { drawing } from "../plot/drawing.js";
import { show, to } from "../view/frame.js";
import { atDesk } from "./desk.js";

/** @param {any} block */
function piece(block) {
  switch (block.kind) {
    case "title": return html`<h1>${block.text}</h1>`;
    case "heading": return html`<h2>${block.text}</h2>`;
    case "outcome": return html`<p class="call call-${block.key}">${block.text}</p>`;
    case "small": return html`<p class="small">${block.text}</p>`;
    case "list": return html`<ul>${block.items.map((/** @type {string} */ item) => html`<li>${item}</li>`)}</ul>`;
    case "facts": return html`<dl>${block.rows.map((/** @type {string[]} */ row) => html`<dt>${row[0]}</dt><dd>${row[1]}</dd>`)}</dl>`;
    case "table": return html`<table><thead><tr>${block.items.map((/** @type {string} */ head) => html`<th scope="col">${head}</th>`)}</tr></thead>
      <tbody>${block.rows.map((/** @type {string[]} */ row) => html`<tr>${row.map((cell) => html`<td>${cell}</td>`)}</tr>`)}</tbody></table>`;
    case "drawing": return html`<figure>${drawing(block.drawing)}</figure>`;
    default: return html`<p>${block.text}</p>`;
  }
}

atDesk(async (desk) => {
  const sheet = await (await bench()).sheet(desk.inspection);
  document.title = sheet.title;
  show({
    title: "Sheet",
    back: [to("inspection"), "Outcome"],
    main: html`<article class="sheet">${sheet.blocks.map(piece)}</article>`,
    foot: html`<a class="button" href=${to("file")}>Hand on</a><button class="main" @click=${() => window.print()}>Print</button>`,
  });
});
