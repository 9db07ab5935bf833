/**
 * What a closed part of a page holds, made when it is opened: browsers lay a closed part out all the same, each by itself.
 * Not here: what can wait until the page has shown (`later.js`).
 */

import { AsyncDirective, directive } from "../vendor/lit-html/async-directive.js";
import { nothing } from "../vendor/lit-html/lit-html.js";

class Folded extends AsyncDirective {
  /** @type {() => unknown} */
  #make = () => nothing;
  /** @type {HTMLDetailsElement | null} */
  #around = null;
  #in = false;

  /** @param {() => unknown} make @returns {unknown} */
  render(make) {
    return make();
  }

  /** @param {import("lit-html").ChildPart} part @param {[() => unknown]} values @returns {unknown} */
  update(part, [make]) {
    this.#make = make;
    if (!this.#around) {
      this.#around = /** @type {HTMLDetailsElement} */ (part.parentNode);
      this.#around.addEventListener("toggle", () => this.#opened());
    }
    this.#in ||= this.#around.open;
    return this.#in ? make() : nothing;
  }

  #opened() {
    if (!this.#in && this.#around?.open && this.isConnected) {
      this.#in = true;
      this.setValue(this.#make());
    }
  }
}

/** @type {(make: () => unknown) => unknown} The content of a `details` element, as its child after the summary. */
export const folded = directive(Folded);
