/**
 * What a camera is called in a list, before the bench has said more.
 * Not here: its full title, which the bench makes.
 *
 */

/** @param {{ camera: { maker: string, model: string, serial: string } }} inspection Or its line in the list. */
export function nameOf({ camera }) {
  const name = [camera.maker, camera.model].map((text) => text.trim()).filter((text) => text).join(" ");
  return [name || "Not named yet", camera.serial.trim()].filter((text) => text).join(" · ");
}
