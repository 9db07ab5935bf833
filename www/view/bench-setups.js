/**
 * Drawings of set-ups on the bench: a lens before a lit field, a hole into a black box with and without the lens.
 * Not here: drawings of what was measured, which the bench makes (`plot`).
 */

import { html, svg } from "../vendor/lit-html/lit-html.js";

/** @param {number} x @param {number} y @param {string} text */
const name = (x, y, text) => svg`<text class="m-label" x=${x} y=${y} text-anchor="middle">${text}</text>`;

/** @param {string} d @param {string} [look] */
const line = (d, look = "set-line") => svg`<path class=${look} d=${d}></path>`;

/** The phone, seen from its side; its lens looks to the left. @param {number} x */
const phone = (x) => svg`${line(`M${x} 40H${x + 14}V150H${x}Z`)}${line(`M${x} 88H${x - 5}V102H${x}Z`)}`;

/** A lens, seen from its side. @param {number} x */
const lens = (x) => svg`${line(`M${x} 66H${x + 50}V124H${x}Z`)}${line(`M${x + 8} 70Q${x + 22} 95 ${x + 8} 120Q${x - 4} 95 ${x + 8} 70`)}${line(`M${x + 30} 66V86M${x + 30} 104V124`, "set-heavy")}`;

/** A lens before a lit field. */
export const openingSetup = () => html`<svg class="drawing setup" viewBox="0 0 340 190" role="img" aria-label="From left to right in one line: a lit white field, the lens with its blades, and the phone on a stand, looking along the lens's axis.">
  ${line("M30 30H40V160H30Z", "set-lit")}${line("M46 60L110 84M46 130L110 106", "set-ray")}
  ${lens(120)}${phone(250)}${line("M245 95H60", "set-ray")}
  ${line("M257 150V172M238 172H276")}
  ${name(40, 184, "lit field")}${name(145, 146, "lens")}${name(257, 28, "phone")}
</svg>`;

/** @param {boolean} withLens */
export const glareSetup = (withLens) => html`<svg class="drawing setup" viewBox="0 0 340 190" role="img" aria-label="From left to right: a black-lined box, before it an evenly lit white card with a round hole into the box${withLens ? ", the lens" : ""}, and the phone, aimed at the hole.">
  ${line("M14 62H62V128H14Z", "set-black")}${line("M62 20H70V82H62ZM62 108H70V170H62Z", "set-lit")}
  ${line("M110 26L78 50M110 164L78 140", "set-ray")}
  ${withLens ? lens(160) : ""}${phone(260)}${line("M254 95H78", "set-ray")}
  ${name(40, 186, "black box")}${name(110, 20, "lamp")}${name(110, 182, "lamp")}${withLens ? name(185, 146, "lens") : ""}${name(267, 28, "phone")}
</svg>`;
