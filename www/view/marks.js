/**
 * The marks of a dial: each can be switched off and on, and one that is missing can be added.
 * Not here: which marks a series has, and whether a mark can be, which the bench says.
 */

import { html } from "../vendor/lit-html/lit-html.js";
import { live } from "../vendor/lit-html/directives/live.js";
import { refusal } from "./notice.js";

/** Only for putting marks in the order of their dial. @param {string} mark */
function rank(mark) {
  const [over = "", under = "1"] = mark.replace(",", ".").split("/");
  return Number(over) / Number(under);
}

/**
 * @param {object} what
 * @param {string} what.legend
 * @param {string} what.id
 * @param {readonly string[]} what.all Every mark of the series.
 * @param {readonly string[]} what.on The marks that this dial has.
 * @param {(mark: string) => string} what.words
 * @param {(a: number, b: number) => number} what.order Of the dial.
 * @param {(marks: string[]) => unknown} what.set
 * @param {string} what.wrong What was refused.
 */
export function marks({ legend, id, all, on, words, order, set, wrong }) {
  const shown = [...new Set([...all, ...on])].sort((a, b) => order(rank(a), rank(b)));
  const toggle = (/** @type {string} */ mark) => set(shown.filter((one) => (one === mark ? !on.includes(one) : on.includes(one))));
  const add = (/** @type {SubmitEvent} */ event) => {
    event.preventDefault();
    const input = /** @type {HTMLInputElement} */ (document.getElementById(id));
    const mark = input.value.trim().replace(/^f\//i, "");
    if (mark && !on.includes(mark)) {
      set([...on, mark].sort((a, b) => order(rank(a), rank(b))));
    }
    input.value = "";
  };
  return html`
    <fieldset>
      <legend>${legend}</legend>
      <div class="choices marks">
        ${shown.map(
          (mark) => html`<label class="choice">
            <input type="checkbox" .checked=${live(on.includes(mark))} @change=${() => toggle(mark)} /><span>${words(mark)}</span>
          </label>`,
        )}
      </div>
      <form class="add" @submit=${add}>
        <label for=${id}>Another mark</label>
        <input type="text" id=${id} autocomplete="off" />
        <button>Add</button>
      </form>
      ${refusal(wrong)}
    </fieldset>
  `;
}
