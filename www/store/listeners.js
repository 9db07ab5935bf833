/**
 * Who wants to hear of what; a failure that nobody listened for yet is told to the first who does.
 * Not here: what there is to tell (`edit`).
 */

/**
 * @template {Record<string, any>} Events
 */
export class Listeners {
  /** @type {Map<keyof Events, Set<(event: any) => void>>} */
  #all = new Map();
  /** @type {{ name: keyof Events, event: any }[]} */
  #unheard = [];

  /**
   * @template {keyof Events} Name
   * @param {Name} name
   * @param {(event: Events[Name]) => void} hear
   * @returns {() => void} Stops it.
   */
  on(name, hear) {
    const those = this.#all.get(name) ?? new Set();
    this.#all.set(name, those.add(hear));
    const missed = this.#unheard.filter((one) => one.name === name);
    this.#unheard = this.#unheard.filter((one) => one.name !== name);
    missed.forEach(({ event }) => queueMicrotask(() => hear(event)));
    return () => those.delete(hear);
  }

  /**
   * @template {keyof Events} Name
   * @param {Name} name
   * @param {Events[Name]} event
   */
  tell(name, event) {
    const those = [...(this.#all.get(name) ?? [])];
    if (those.length === 0 && name === "failed") {
      this.#unheard.push({ name, event });
    }
    for (const hear of those) {
      try {
        hear(event);
      } catch (error) {
        // What goes wrong in showing must not stop the keeping.
        reportError(error);
      }
    }
  }
}
