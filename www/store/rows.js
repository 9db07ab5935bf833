/**
 * A camera's row and its line in the list, always written together: the line is what the list shows and searches, a small part of
 * what the row holds, so that ten thousand cameras can be listed without reading them.
 * Not here: when a row is written (`inspections`, `history`, `bin`); reading the list (`summaries`).
 *
 * @import { Row, Summary, Writing } from "./database.js"
 */

/** So many reasons stand in the list. */
const REASONS = 2;
/** So much of the notes is searched. */
const NOTES = 600;

/**
 * @param {Row} row
 * @returns {Summary}
 */
export function summaryOf({ key, inspection, updated, removed, beside }) {
  const { camera, lens, result } = inspection;
  const { maker, model, serial } = camera;
  const outcome = result?.outcome_words ?? "";
  const notes = [inspection.notes ?? "", ...(inspection.findings ?? []).map((finding) => finding.note)].filter((note) => note).join(" ").slice(0, NOTES);
  return {
    key,
    camera: { maker, model, serial },
    outcome: result?.outcome ?? "",
    outcome_words: outcome,
    reasons: (result?.reasons ?? []).slice(0, REASONS).map((reason) => reason.text),
    progress: result?.progress_words ?? "",
    open: (result?.unchecked ?? []).filter((one) => one.matters).length,
    // Beginning with the name, by which the list is put in order.
    words: [maker, model, serial, lens.name, outcome, updated.slice(0, 10), notes].join(" ").toLowerCase(),
    updated,
    removed,
    beside,
  };
}

/** @param {Writing} writing @param {Row} row */
export async function putRow(writing, row) {
  await writing.objectStore("inspections").put(row);
  await writing.objectStore("summaries").put(summaryOf(row));
}

/** A row whose key must be free. @param {Writing} writing @param {Row} row */
export async function addRow(writing, row) {
  await writing.objectStore("inspections").add(row);
  await writing.objectStore("summaries").put(summaryOf(row));
}

/** @param {Writing} writing @param {string} key */
export async function deleteRow(writing, key) {
  await writing.objectStore("inspections").delete(key);
  await writing.objectStore("summaries").delete(key);
}
