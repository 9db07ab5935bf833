/**
 * What was entered and is not yet in the store, written down at once: closing the page at any instant loses nothing. Each tab
 * has its own pages in it, so that none clears what another has not yet kept.
 * Not here: carrying the entries over into the record (`edit`).
 *
 * @import { Path } from "./path.js"
 */

/**
 * @typedef {object} Entry
 * @property {Path} path
 * @property {unknown} value
 */

const PREFIX = "lampblack.journal.";

/** This tab; it stays the same when the page is reloaded. */
const tab = tabName();
let held = false;

function tabName() {
  const fresh = () => crypto.randomUUID();
  try {
    const name = sessionStorage.getItem("lampblack.tab") ?? fresh();
    sessionStorage.setItem("lampblack.tab", name);
    return name;
  } catch {
    return fresh();
  }
}

/** @param {string} key */
const page = (key, of = tab) => `${PREFIX}${of}.${encodeURIComponent(key)}`;

/**
 * @param {string} name
 * @returns {Entry[]}
 */
function read(name) {
  try {
    const entries = JSON.parse(localStorage.getItem(name) ?? "[]");
    return Array.isArray(entries) ? entries.filter((entry) => Array.isArray(entry?.path)) : [];
  } catch {
    return [];
  }
}

/**
 * @param {string} name
 * @param {Entry[]} entries
 */
function save(name, entries) {
  try {
    if (entries.length === 0) {
      localStorage.removeItem(name);
    } else {
      localStorage.setItem(name, JSON.stringify(entries));
    }
  } catch {
    // Without room or leave for a journal the change is still on its way into the store.
  }
}

/** As long as this page lives, other tabs leave its entries to it. */
function hold() {
  if (!held) {
    held = true;
    navigator.locks?.request(`lampblack.tab.${tab}`, { mode: "shared" }, () => new Promise(() => {}));
  }
}

/** @param {Path} path */
const text = (path) => JSON.stringify(path);

/**
 * Writes an edit down before anything else is done with it. An earlier entry for the same place makes way.
 *
 * @param {string} key
 * @param {Path} path
 * @param {unknown} value
 */
export function note(key, path, value) {
  hold();
  const others = read(page(key)).filter((entry) => text(entry.path) !== text(path));
  save(page(key), [...others, { path, value: value ?? null }]);
}

/**
 * Strikes out what is in the store now.
 *
 * @param {string} key
 * @param {Entry[]} [entries] These, unless they were overtaken by a newer value; without it, all of this tab.
 */
export function clear(key, entries) {
  const gone = new Set(entries?.map((entry) => JSON.stringify([entry.path, entry.value ?? null])));
  const left = entries ? read(page(key)).filter((entry) => !gone.has(JSON.stringify([entry.path, entry.value]))) : [];
  save(page(key), left);
}

/**
 * @param {string} key
 * @returns {Entry[]} What this tab entered and did not yet keep, in order; after a reload too.
 */
export function pending(key) {
  return read(page(key));
}

/**
 * Takes over what tabs entered that are gone.
 *
 * @param {string} key
 * @returns {Promise<Entry[]>} Everything that is pending for this tab then.
 */
export async function adopt(key) {
  const alive = new Set((await navigator.locks?.query())?.held?.map((lock) => lock.name) ?? []);
  for (const name of pagesOf(key).filter((one) => one !== page(key))) {
    if (!alive.has(`lampblack.tab.${partsOf(name).of}`)) {
      const entries = read(name);
      save(name, []);
      // What this tab entered itself is newer.
      const own = pending(key);
      own.unshift(...entries.filter((entry) => !own.some((mine) => text(mine.path) === text(entry.path))));
      save(page(key), own);
    }
  }
  return pending(key);
}

/**
 * Strikes out everything of a camera that is gone for good.
 *
 * @param {string} key
 */
export function drop(key) {
  pagesOf(key).forEach((name) => save(name, []));
}

/** @returns {string[]} The cameras of which something was entered and is not kept yet, in whatever tab. */
export function cameras() {
  return [...new Set(names().map((name) => decodeURIComponent(partsOf(name).camera)))];
}

/** @param {string} name A tab's name has no full stop in it; a camera's key may have one. */
function partsOf(name) {
  const [of = "", ...camera] = name.slice(PREFIX.length).split(".");
  return { of, camera: camera.join(".") };
}

/** @param {string} key */
const pagesOf = (key) => names().filter((name) => partsOf(name).camera === encodeURIComponent(key));

function names() {
  try {
    return Object.keys(localStorage).filter((name) => name.startsWith(PREFIX));
  } catch {
    return [];
  }
}
