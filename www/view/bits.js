/** Small pieces that several pages show: calls, reasons, choices, levels. Not here: steppers (dial.js), the frame. */
import { html } from "../vendor/lit-html/lit-html.js";
import { live } from "../vendor/lit-html/directives/live.js";
import { drawing } from "../plot/drawing.js";
import { to } from "./frame.js";

/** @param {string} key @param {string} words A call or an outcome: a word in a box. */
export const call = (key, words) => html`<span class="call call-${key}">${words}</span>`;

/** @param {any} reason */
function evidence(reason) {
  if (reason.about === "point") {
    return `${to("round", { area: reason.area })}#${reason.point}`;
  }
  return { meter: to("meter"), consistency: to("consistency"), costs: to("inspection") }[/** @type {string} */ (reason.about)] ?? to("inspection");
}

/** @param {string} heading @param {any[]} reasons Sentences, each leading to its evidence. */
export const reasons = (heading, reasons) =>
  reasons.length === 0
    ? ""
    : html`<h2>${heading}</h2><ul class="plain">${reasons.map((one) => html`<li><a href=${evidence(one)}>${one.text}</a></li>`)}</ul>`;

/**
 * Choices of which one is made.
 *
 * @param {{ legend: string, name: string, value: string, options: { key: string, words: string, help?: string }[], wide?: boolean, pick: (key: string) => void }} what
 */
export const choose = ({ legend, name, value, options, wide = false, pick }) => html`
  <fieldset>
    <legend>${legend}</legend>
    <div class="choices ${wide ? "wide" : ""}">
      ${options.map(
        (one) => html`<label class="choice"
          ><input type="radio" name=${name} value=${one.key} .checked=${live(one.key === value)} @change=${() => pick(one.key)} /><span
            >${one.words}${one.help ? html`<small>${one.help}</small>` : ""}</span
          ></label
        >`,
      )}
    </div>
  </fieldset>
`;

/**
 * A line of text, kept as it is typed.
 *
 * @param {{ label: string, id: string, value: string, type: (text: string) => void, decimal?: boolean, help?: string }} what
 */
export const field = ({ label, id, value, type, decimal = false, help = "" }) => html`
  <label class="name" for=${id}>${label}</label>
  <input type="text" id=${id} .value=${live(value)} inputmode=${decimal ? "decimal" : "text"} autocomplete="off"
    @input=${(/** @type {Event} */ event) => type(/** @type {HTMLInputElement} */ (event.target).value)} />
  ${help ? html`<p class="small">${help}</p>` : ""}
`;

/** @param {any} level @param {any} bar @param {unknown} [more] */
export const levelRow = (level, bar, more = "") => html`
  <div class="level">
    <div><b>${level.light_words}</b><small>${level.reading_words}</small></div>
    <div>${bar ? drawing(bar) : ""}</div>
    <div class=${level.error_words.endsWith("over") ? "over" : "under"}>${level.error_words}<small>${level.doubt_words}</small>${more}</div>
  </div>
`;
