/**
 * Finding a camera in the list: a few letters, one outcome, another order.
 * Not here: the list itself (`index.js`); what a line is found by (`store/rows.js`).
 *
 * @import { Summary } from "../store/database.js"
 */

import { arrange, search } from "../store/summaries.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { field } from "../view/field.js";

const ORDERS = [["newest", "newest first"], ["oldest", "oldest first"], ["name", "by name"], ["open", "most open first"]];

/** What is asked of the list. */
export class Finding {
  #typed = "";
  #outcome = "";
  #order = "newest";
  #again;

  /** @param {() => void} again Draws the page once more. */
  constructor(again) {
    this.#again = again;
  }

  /** @param {readonly Summary[]} lines @returns {readonly Summary[]} Those that are asked for, in the order asked for. */
  found(lines) {
    return arrange(search(lines, this.#typed), { outcome: this.#outcome, order: this.#order });
  }

  /** @param {string} label @param {string} id @param {string} value @param {readonly (readonly string[])[]} options @param {(key: string) => void} pick */
  #select(label, id, value, options, pick) {
    const picked = (/** @type {Event} */ event) => {
      pick(/** @type {HTMLSelectElement} */ (event.target).value);
      this.#again();
    };
    return html`<div class="field"><label for=${id}>${label}</label>
      <select id=${id} @change=${picked}>${options.map(([key, words]) => html`<option value=${key ?? ""} ?selected=${key === value}>${words}</option>`)}</select></div>`;
  }

  /** @param {readonly Summary[]} lines @param {readonly Summary[]} found */
  asking(lines, found) {
    /** @type {Map<string, { words: string, count: number }>} */
    const outcomes = new Map();
    for (const { outcome, outcome_words: words } of lines) {
      outcomes.set(outcome, { words, count: (outcomes.get(outcome)?.count ?? 0) + 1 });
    }
    const all = found.length === lines.length;
    return html`<search>${field({ label: "Find a camera", id: "find", value: this.#typed, help: "by maker, model, serial number, lens, notes, outcome or day", type: (text) => {
        this.#typed = text;
        this.#again();
      } })}
      <div class="pair">
        ${this.#select("Outcome", "outcome", this.#outcome, [["", "all"], ...[...outcomes].filter(([key]) => key).map(([key, { words, count }]) => [key, `${words} (${count})`])], (key) => (this.#outcome = key))}
        ${this.#select("Order", "order", this.#order, ORDERS, (key) => (this.#order = key))}
      </div>
      <p class="small" role="status">${all ? html`${lines.length} cameras${this.#order === "newest" ? ", the newest first" : nothing}` : found.length === 1 ? "one camera" : `${found.length} cameras`}</p></search>`;
  }
}
