/**
 * Carrying edits over into the kept record: made on what is in the store now, accepted by the bench, kept in one transaction.
 * Not here: which edits wait and who is told (`edit`).
 *
 * @import { Accepted, Inspection } from "../bench/shapes.js"
 * @import { Entry } from "./journal.js"
 * @import { Path } from "./path.js"
 */

import { BenchError, bench } from "../bench/client.js";
import { asWriter } from "./tabs.js";
import { get, put } from "./inspections.js";

/**
 * @typedef {object} Edit
 * @property {(draft: Inspection) => void} make
 * @property {string} label What kind of change it is, for taking it back.
 * @property {boolean} typed One of many small changes in one field.
 * @property {Path | null} path
 * @property {Entry[]} entries What the journal has of it.
 * @property {(kept: boolean) => void} settle
 */

/** Why an edit that was sound when it was made cannot be made any more. */
export const OVERTAKEN = "This was changed in another window meanwhile. Look at it there and enter it again.";

/**
 * @param {string} key
 * @param {Inspection} known The record as this page knows it.
 * @param {Edit[]} edits
 * @returns {Promise<Accepted & { elsewhere: boolean }>} `elsewhere`: the store held a newer record than the page knew.
 */
export function commit(key, known, edits) {
  return asWriter(key, async () => {
    // Where the row is gone for good, what the page has in hand is all there is.
    const base = (await get(key))?.inspection ?? known;
    const accepted = await accept(made(base, edits));
    const { label = "change" } = edits.at(-1) ?? {};
    const typed = edits.every((edit) => edit.typed && edit.label === label);
    await put(key, accepted.inspection, { label, typed });
    return { ...accepted, elsewhere: base.revision !== known.revision || base.updated !== known.updated };
  });
}

/**
 * @param {Inspection} base
 * @param {Edit[]} edits
 * @returns {Inspection}
 */
function made(base, edits) {
  const draft = structuredClone(base);
  try {
    edits.forEach((edit) => edit.make(draft));
  } catch {
    throw new BenchError(OVERTAKEN);
  }
  return draft;
}

/**
 * Once more where the bench gave out: the next worker may have the answer.
 *
 * @param {Inspection} draft
 */
async function accept(draft) {
  const asked = await bench();
  try {
    return await asked.accept(draft);
  } catch (error) {
    if (error instanceof BenchError && error.inside) {
      return await asked.accept(draft);
    }
    throw error;
  }
}

/**
 * Whether an edit that failed is only waiting. It is refused by the bench alone; whatever else went wrong (no room, no store,
 * no bench yet) is no reason to let go of it.
 *
 * @param {unknown} error
 */
export function isWaiting(error) {
  return !(error instanceof BenchError) || error.unloaded;
}
