/**
 * Handing a text file over: by the phone's own sharing where it takes such a file, else as a download.
 * Not here: what is in the file. It is made before the tap, because a tap's leave to share does not outlast a wait.
 */

import { CaptureError } from "./error.js";

/**
 * @typedef {object} Parcel A file that is ready to be handed over, under the names by which it may go.
 * @property {string} name
 * @property {File} json
 * @property {File} text
 *
 * @typedef {"shared" | "shared_as_text" | "downloaded" | "cancelled"} Way
 */

/**
 * @param {string} name Ending in `.json`.
 * @param {string} text
 * @returns {Parcel}
 */
export function prepare(name, text) {
  return {
    name,
    json: new File([text], name, { type: "application/json" }),
    // Some browsers share no .json by name or type, but any text.
    text: new File([text], `${name}.txt`, { type: "text/plain" }),
  };
}

/**
 * Hands a parcel over; to be called straight from a tap.
 *
 * @param {Parcel} parcel
 * @returns {Promise<Way>} The way it went.
 */
export async function handOver(parcel) {
  for (const [file, way] of /** @type {[File, Way][]} */ ([[parcel.json, "shared"], [parcel.text, "shared_as_text"]])) {
    if (canShare(file)) {
      try {
        await navigator.share({ files: [file], title: parcel.name });
        return way;
      } catch (error) {
        if (error instanceof DOMException && error.name === "AbortError") {
          return "cancelled";
        }
        // Whatever else stood in the way may not stand in the next one.
      }
    }
  }
  if (isHomeScreenApp()) {
    throw new CaptureError("This phone takes no file from an app on the home screen. Open the page in the browser and hand it over there.");
  }
  download(parcel);
  return "downloaded";
}

/** @param {File} file */
function canShare(file) {
  try {
    return typeof navigator.share === "function" && navigator.canShare?.({ files: [file] }) === true;
  } catch {
    return false;
  }
}

/** On an iPhone's home screen a download opens a viewer without a way back. */
function isHomeScreenApp() {
  return /** @type {{ standalone?: boolean }} */ (navigator).standalone === true;
}

/** @param {Parcel} parcel */
function download({ name, json }) {
  const address = URL.createObjectURL(json);
  const link = document.createElement("a");
  link.href = address;
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  // The browser reads it after the click; a minute is plenty.
  setTimeout(() => URL.revokeObjectURL(address), 60_000);
}
