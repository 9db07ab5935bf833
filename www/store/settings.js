/**
 * Small things the page remembers between visits: the look, the last kind and reference, the last backup.
 * Not here: anything of a camera.
 */

import { use } from "./database.js";

/** The looks that can be chosen. */
export const THEMES = ["auto", "light", "dark", "contrast"];
const THEME = "lampblack.theme";

/**
 * The look, at once, so that it is there before the page is painted.
 *
 * @returns {string} One of `THEMES`.
 */
export function theme() {
  try {
    const chosen = localStorage.getItem(THEME) ?? "auto";
    return THEMES.includes(chosen) ? chosen : "auto";
  } catch {
    return "auto";
  }
}

/**
 * @param {string} name
 * @returns {Promise<any>} `undefined` where it was never set.
 */
export async function get(name) {
  return name === "theme" ? theme() : (await use((db) => db.get("settings", name)))?.value;
}

/**
 * @param {string} name
 * @param {unknown} value Plain data.
 */
export async function set(name, value) {
  if (name === "theme") {
    try {
      localStorage.setItem(THEME, String(value));
    } catch {
      // Without leave to remember it, the look lasts as long as the page.
    }
    return;
  }
  await use((db) => db.put("settings", { name, value }));
}
