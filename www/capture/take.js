/**
 * Reading a file that a person chose, as text: its size is looked at before anything of it is read.
 * Not here: what the text holds, which the bench reads.
 */

import { CaptureError } from "./error.js";

/** What a file chooser should offer. */
export const ACCEPT = ".json,.txt,application/json,text/plain";
/** Largest file that is read [bytes]; the bench has the same limit for what it is given. */
const MOST = 20 * 1024 * 1024;

/**
 * @param {File} file
 * @returns {Promise<string>}
 */
export async function readText(file) {
  if (file.size > MOST) {
    const given = Math.ceil(file.size / (1024 * 1024));
    throw new CaptureError(`This file is ${given} MB long, and at most 20 MB are taken. Nothing was read.`);
  }
  if (!/\.(json|txt)$/i.test(file.name)) {
    throw new CaptureError("This is no inspection file: its name should end in .json or .txt.");
  }
  let bytes;
  try {
    bytes = await file.arrayBuffer();
  } catch {
    throw new CaptureError("The file could not be read. Choose it again; it may have been moved.");
  }
  try {
    return new TextDecoder("utf-8", { fatal: true }).decode(bytes);
  } catch {
    throw new CaptureError("This file is no text, so it is no inspection file.");
  }
}
