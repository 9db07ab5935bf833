/**
 * The pictures: their files by id, addresses under which the page can show them, and the way into and out of a file's base64.
 * Not here: shrinking a picture and taking its metadata off (`capture`); which point a picture belongs to (the inspection).
 *
 * @import { Picture } from "./database.js"
 * @import { Inspection, Photo } from "../bench/shapes.js"
 */

import { use, write } from "./database.js";

/** What a picture from a file may be; anything else is taken as JPEG and shows nothing where it is none. */
const TYPES = ["image/jpeg", "image/png", "image/webp"];

/**
 * @param {{ id: string, blob: Blob }} picture
 */
export async function putPhoto({ id, blob }) {
  const added = new Date().toISOString();
  await write((writing) => writing.objectStore("photos").put({ id, blob, added }));
}

/**
 * @param {string} id
 * @returns {Promise<Blob | undefined>}
 */
export async function getPhoto(id) {
  return (await use((db) => db.get("photos", id)))?.blob;
}

/** @type {Map<string, Promise<string | undefined>>} */
const shown = new Map();

/**
 * An address under which a picture can be shown on this page.
 *
 * @param {string} id
 * @returns {Promise<string | undefined>} `undefined` where the picture is not on this phone.
 */
export function url(id) {
  const there = shown.get(id);
  if (there) {
    return there;
  }
  const made = getPhoto(id).then((blob) => {
    if (!blob) {
      shown.delete(id);
      return undefined;
    }
    return URL.createObjectURL(blob);
  });
  made.catch(() => shown.delete(id));
  shown.set(id, made);
  return made;
}

/**
 * Gives the address of a picture back, or of all of them.
 *
 * @param {string} [id]
 */
export function release(id) {
  for (const one of id === undefined ? [...shown.keys()] : [id]) {
    const made = shown.get(one);
    shown.delete(one);
    made?.then((address) => address && URL.revokeObjectURL(address), () => {});
  }
}

/**
 * An inspection with its pictures in it, for a file that is handed on.
 *
 * @param {Inspection} inspection
 * @returns {Promise<Inspection>}
 */
export async function withPictures(inspection) {
  const photos = await Promise.all(
    inspection.photos.map(async (photo) => {
      const blob = await getPhoto(photo.id);
      return blob ? { ...photo, data: await toBase64(blob) } : photo;
    }),
  );
  return { ...inspection, photos };
}

/**
 * Parts an inspection that came in a file from its pictures.
 *
 * @param {Inspection} inspection
 * @returns {{ bare: Inspection, pictures: Picture[] }}
 */
export function unpack(inspection) {
  const added = new Date().toISOString();
  /** @type {Picture[]} */
  const pictures = [];
  const photos = inspection.photos.map((photo) => {
    const blob = fromBase64(photo);
    if (blob && photo.id) {
      pictures.push({ id: photo.id, blob, added });
    }
    return { ...photo, data: null };
  });
  return { bare: { ...inspection, photos }, pictures };
}

/**
 * @param {Blob} blob
 * @returns {Promise<string>}
 */
function toBase64(blob) {
  return new Promise((resolve, reject) => {
    const reader = new FileReader();
    reader.addEventListener("load", () => resolve(String(reader.result).replace(/^[^,]*,/, "")));
    reader.addEventListener("error", () => reject(reader.error));
    reader.readAsDataURL(blob);
  });
}

/**
 * @param {Photo} photo
 * @returns {Blob | null} `null` where there is no picture in it, or text that is none.
 */
function fromBase64(photo) {
  if (!photo.data) {
    return null;
  }
  try {
    const bytes = Uint8Array.from(atob(photo.data), (letter) => letter.charCodeAt(0));
    return new Blob([bytes], { type: TYPES.includes(photo.media_type) ? photo.media_type : "image/jpeg" });
  } catch {
    return null;
  }
}
