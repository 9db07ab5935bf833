/**
 * Questions of which only the newest counts, such as previews while a value is being stepped.
 * Not here: the questions.
 */

/** One running at a time under each name, and one waiting. */
export class Newest {
  /** @type {Map<string, { running: boolean, waiting: (() => void) | null, turn: number }>} */
  #asked = new Map();

  /**
   * A question that was overtaken comes out as `undefined`, and one that had not begun is never begun.
   *
   * @template Answer
   * @param {string} name
   * @param {() => Promise<Answer>} question
   * @returns {Promise<Answer | undefined>}
   */
  async ask(name, question) {
    const state = this.#asked.get(name) ?? { running: false, waiting: null, turn: 0 };
    this.#asked.set(name, state);
    state.turn += 1;
    const turn = state.turn;
    if (state.running) {
      state.waiting?.();
      await new Promise((resolve) => (state.waiting = () => resolve(undefined)));
      if (turn !== state.turn) {
        return undefined;
      }
    }
    state.running = true;
    try {
      const value = await question();
      return turn === state.turn ? value : undefined;
    } catch (error) {
      if (turn === state.turn) {
        throw error;
      }
      return undefined;
    } finally {
      state.running = false;
      const next = state.waiting;
      state.waiting = null;
      next?.();
    }
  }
}
