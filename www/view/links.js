/**
 * The addresses of all pages, in one place, and the camera in hand, which is part of the address.
 * Not here: what the pages show.
 *
 * @import { Reason } from "../bench/shapes.js"
 */

/** What the address of this page says. */
export const asked = new URLSearchParams(location.search);

/** The key of the inspection in hand; empty where the page is about none. */
export const key = asked.get("i") ?? "";
/** Pages that are no part of a step. */
const OUTSIDE = ["inspection", "steps", "sheet", "file"];

/**
 * The address of a page about no camera.
 *
 * @param {"index" | "new" | "file" | "bin" | "more" | "phones" | "reset"} page
 * @param {Record<string, string>} [more]
 */
export function at(page, more = {}) {
  const query = new URLSearchParams(more).toString();
  return `${page}.html${query ? `?${query}` : ""}`;
}

/**
 * The address of a page about a camera.
 *
 * @param {"inspection" | "camera" | "steps" | "round" | "meter" | "reference" | "level" | "photo" | "live" | "sun" | "lamp" | "consistency" | "shutter" | "listen" | "take" | "clip" | "openings" | "glare" | "seals" | "tight" | "roll" | "strip" | "film" | "words" | "compare" | "sheet" | "file"} page
 * @param {Record<string, string>} [more]
 * @param {string} [of] Key of the camera; the one in hand where none is named.
 * @returns {string} Within the round where this page is, until the person leaves it.
 */
export function to(page, more = {}, of = key) {
  const step = asked.get("r");
  /** @type {Record<string, string>} */
  const within = step && of === key && !OUTSIDE.includes(page) ? { r: step } : {};
  return `${page}.html?${new URLSearchParams({ i: of, ...within, ...more })}`;
}

/** @param {Pick<Reason, "about" | "point" | "area">} reason @returns {string} Where its evidence stands. */
export function evidence({ about, point, area }) {
  switch (about) {
    case "point":
      return `${to("round", { area })}#${point}`;
    case "meter":
      return to("meter");
    case "consistency":
      return to("consistency");
    case "shutter":
      return to("shutter");
    case "film":
      return to("film");
    case "glare":
      return to("glare");
    case "aperture":
      return to("openings");
    case "test_roll":
      return to("roll");
    default:
      return `${to("inspection")}#costs`;
  }
}
