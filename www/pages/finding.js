/**
 * Changing what was found at a point: condition, note, pictures.
 * Not here: showing it (`round.js`); shrinking a picture (`capture`); keeping it (`store`).
 *
 * @import { Finding, Inspection } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { shrink } from "../capture/picture.js";
import { putPhoto } from "../store/photos.js";

/** What went wrong with a picture, by point. @type {Map<string, unknown>} */
const trouble = new Map();

/** @param {string} point @returns {unknown} */
export const troubleAt = (point) => trouble.get(point) ?? "";

const now = () => new Date().toISOString();

/** @param {Inspection} draft @param {string} point @returns {Finding} */
function findingOf(draft, point) {
  let found = draft.findings.find((one) => one.point === point);
  if (!found) {
    found = { point, condition: "not_checked", note: "", photos: [], at: now() };
    draft.findings.push(found);
  }
  return found;
}

/** @param {Hand} hand @param {string} point @param {string} condition */
export function setCondition(hand, point, condition) {
  const at = now();
  return hand.apply((draft) => Object.assign(findingOf(draft, point), { condition, at }), "condition");
}

/** @param {Hand} hand @param {string} point */
export function pathOfNote(hand, point) {
  return ["findings", hand.inspection.findings.findIndex((one) => one.point === point), "note"];
}

/** @param {Hand} hand @param {string} point @returns {string} The condition as chosen, also where it is still on its way. */
export const conditionOf = (hand, point) => hand.inspection.findings.find((one) => one.point === point)?.condition ?? "not_checked";

/** @param {Hand} hand @param {string} point @returns {string} The note with what is still on its way. */
export const noteOf = (hand, point) => hand.inspection.findings.find((one) => one.point === point)?.note ?? "";

/** @param {Hand} hand @param {string} point @param {string} text */
export function setNote(hand, point, text) {
  const path = pathOfNote(hand, point);
  return path[1] === -1 ? hand.apply((draft) => { findingOf(draft, point).note = text; }, "note") : hand.change(path, text);
}

/** @param {Hand} hand @param {string} point @param {File} file */
export async function addPicture(hand, point, file) {
  trouble.delete(point);
  try {
    const { blob, width, height } = await shrink(file);
    const id = crypto.randomUUID();
    await putPhoto({ id, blob });
    const photo = { id, taken: now(), media_type: blob.type, width_px: width, height_px: height, size_bytes: blob.size, on_sheet: false, data: null };
    await hand.apply((draft) => {
      draft.photos.push(photo);
      findingOf(draft, point).photos.push(id);
    }, "picture");
  } catch (error) {
    trouble.set(point, error);
    hand.draw();
  }
}

/** Takes a picture off a point; its file stays until nothing can bring it back. @param {Hand} hand @param {string} point @param {string} id */
export function dropPicture(hand, point, id) {
  return hand.apply((draft) => {
    const finding = findingOf(draft, point);
    finding.photos = finding.photos.filter((one) => one !== id);
    if (!draft.findings.some((one) => one.photos.includes(id)) && !draft.aperture.openings.some((one) => one.photo === id)) {
      draft.photos = draft.photos.filter((one) => one.id !== id);
    }
  }, "picture removed");
}
