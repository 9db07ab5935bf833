/**
 * Questions to the worker and answers from it, by number; a worker that gave out is ended and started again.
 * Not here: what can be asked (the client's); what is answered (the worker's).
 */

import { BenchError, INSIDE, UNLOADED } from "./error.js";
import { workerAddress } from "./trusted.js";

/**
 * @typedef {object} Open
 * @property {string} question
 * @property {unknown[]} values
 * @property {ArrayBufferLike[]} moved
 * @property {(value: any) => void} resolve
 * @property {(error: BenchError) => void} reject
 */

/** One worker at a time, and the questions that it has not answered yet. */
export class Messenger {
  /** The module that this page will need, where several answer a question. */
  wanted = "";
  /** @type {Worker | null} */
  #worker = null;
  /** @type {Map<number, Open>} */
  #open = new Map();
  #last = 0;

  /**
   * @param {string} question
   * @param {unknown[]} values
   * @param {ArrayBufferLike[]} moved Memory of theirs that goes to the worker instead of a copy of it, and is gone here.
   * @returns {Promise<any>}
   */
  ask(question, values, moved = []) {
    return new Promise((resolve, reject) => {
      this.#last += 1;
      this.#open.set(this.#last, { question, values, moved, resolve, reject });
      try {
        this.#send(this.#last);
      } catch (error) {
        // What cannot be handed to the worker at all, such as a function inside a value.
        this.#open.delete(this.#last);
        reject(new BenchError(`The bench could not be asked: ${String(error)}`));
      }
    });
  }

  /** @param {number} id */
  #send(id) {
    const open = this.#open.get(id);
    if (open) {
      this.#running().postMessage({ id, question: open.question, values: open.values, wanted: this.wanted }, /** @type {ArrayBuffer[]} */ (open.moved));
    }
  }

  #running() {
    if (!this.#worker) {
      const worker = new Worker(workerAddress(), { type: "module", name: "bench" });
      worker.addEventListener("message", (event) => worker === this.#worker && this.#hear(event.data));
      worker.addEventListener("messageerror", () => worker === this.#worker && this.#giveUp(INSIDE));
      worker.addEventListener("error", (event) => {
        event.preventDefault();
        // Without a message the script itself could not be fetched.
        if (worker === this.#worker) {
          this.#giveUp(event.message ? INSIDE : UNLOADED);
        }
      });
      this.#worker = worker;
    }
    return this.#worker;
  }

  /** @param {{ id: number, value?: any, json?: boolean, sentence?: string, trap?: string, unloaded?: string, heavy?: boolean }} answer */
  #hear(answer) {
    if (answer.unloaded !== undefined) {
      console.warn(`the bench could not be loaded: ${answer.unloaded}`);
      this.#giveUp(UNLOADED);
      return;
    }
    const open = this.#open.get(answer.id);
    this.#open.delete(answer.id);
    if (answer.trap !== undefined) {
      console.warn(`the bench gave out at "${open?.question}": ${answer.trap}`);
      this.#end();
      open?.reject(new BenchError(INSIDE, { inside: true }));
      // The questions behind it are not to blame: the next worker answers them.
      for (const [id, { moved, reject }] of this.#open) {
        if (moved.length > 0) {
          // What was moved went down with the worker.
          this.#open.delete(id);
          reject(new BenchError(INSIDE, { inside: true }));
        } else {
          this.#send(id);
        }
      }
    } else if (answer.sentence !== undefined) {
      open?.reject(new BenchError(answer.sentence));
    } else {
      open?.resolve(answer.json ? JSON.parse(answer.value) : answer.value);
    }
    if (answer.heavy && this.#open.size === 0) {
      // After a large picture the phone gets its memory back; the next question starts another worker.
      this.#end();
    }
  }

  /**
   * Nobody knows which question it was: all of them end, and the next one finds a new worker.
   *
   * @param {string} sentence
   */
  #giveUp(sentence) {
    this.#end();
    const open = [...this.#open.values()];
    this.#open.clear();
    for (const { reject } of open) {
      reject(new BenchError(sentence, { inside: sentence === INSIDE, unloaded: sentence === UNLOADED }));
    }
  }

  #end() {
    this.#worker?.terminate();
    this.#worker = null;
  }
}
