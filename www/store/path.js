/**
 * Places in a record, as lists of keys and indices: setting a value at one, and finding where two records differ.
 * Not here: what may stand at a place, which the bench checks.
 */

import { StoreError } from "./error.js";

/**
 * @typedef {(string | number)[]} Path
 */

/** Keys that reach beyond a plain object. */
const NEVER = new Set(["__proto__", "constructor", "prototype"]);

/**
 * Refuses what is no place.
 *
 * @param {Path} path
 */
export function check(path) {
  const sound =
    Array.isArray(path) &&
    path.length > 0 &&
    path.every((part) => (typeof part === "string" ? !NEVER.has(part) : Number.isInteger(part) && part >= 0));
  if (!sound) {
    throw new StoreError(`there is no place "${String(path).slice(0, 80)}" in a record`);
  }
}

/**
 * Sets a value in a draft. Every part of the path must be there already; only the last may be new, and in a list only the next.
 *
 * @param {object} draft Changed in place.
 * @param {Path} path
 * @param {unknown} value
 */
export function setAt(draft, path, value) {
  check(path);
  /** @type {any} */
  let at = draft;
  for (const part of path.slice(0, -1)) {
    if (typeof at !== "object" || at === null || !Object.hasOwn(at, part)) {
      throw new StoreError(`there is no place "${path.join(".").slice(0, 80)}" in this record`);
    }
    at = at[part];
  }
  const last = /** @type {string | number} */ (path.at(-1));
  const fits = Array.isArray(at)
    ? Number.isInteger(last) && Number(last) <= at.length
    : typeof at === "object" && at !== null && Object.hasOwn(at, last);
  if (!fits) {
    throw new StoreError(`there is no place "${path.join(".").slice(0, 80)}" in this record`);
  }
  at[last] = value;
}

/**
 * The places at which a record differs from an earlier one, each with its new value; a list that grew or shrank is one place.
 *
 * @param {unknown} before
 * @param {unknown} after
 * @param {Path} [path]
 * @returns {{ path: Path, value: unknown }[]}
 */
export function differences(before, after, path = []) {
  if (Object.is(before, after)) {
    return [];
  }
  const both = [before, after].every((value) => typeof value === "object" && value !== null);
  if (!both || Array.isArray(before) !== Array.isArray(after)) {
    return [{ path, value: after }];
  }
  const [a, b] = [/** @type {Record<string, unknown>} */ (before), /** @type {Record<string, unknown>} */ (after)];
  const keys = Object.keys(a);
  if (keys.length !== Object.keys(b).length || !keys.every((key) => Object.hasOwn(b, key))) {
    return [{ path, value: after }];
  }
  return keys.flatMap((key) => differences(a[key], b[key], [...path, Array.isArray(before) ? Number(key) : key]));
}
