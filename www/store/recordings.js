/**
 * The recordings that the person keeps on this phone, by their keys: a take may be worked out again from one, or listened to.
 * Not here: what is in them (the bench); which take one belongs to (the inspection). None of them goes into a file.
 */

import { use, write } from "./database.js";

/**
 * @param {Blob} blob
 * @returns {Promise<string>} The key under which it is kept.
 */
export async function putRecording(blob) {
  const id = crypto.randomUUID();
  const added = new Date().toISOString();
  await write((writing) => writing.objectStore("recordings").put({ id, blob, added }));
  return id;
}

/**
 * @param {string} id
 * @returns {Promise<Blob | undefined>} `undefined` where it is not on this phone.
 */
export async function getRecording(id) {
  return (await use((db) => db.get("recordings", id)))?.blob;
}

/**
 * Throws one away for good.
 *
 * @param {string} id
 */
export async function dropRecording(id) {
  await write((writing) => writing.objectStore("recordings").delete(id));
}
