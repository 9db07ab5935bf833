/**
 * The worker that owns the bench: takes one question after another, asks the module, sends the answer back under its number.
 * Not here: promises, restarting and the time of day, which are the client's.
 */

import init, * as bridge from "./lampblack.js";

/** What can be asked, and nothing else: a name that is not here reaches no function. */
const QUESTIONS = new Map(/** @type {[string, (...values: any[]) => unknown][]} */ ([
  ["version", bridge.version],
  ["lists", bridge.lists],
  ["places", bridge.places],
  ["new_inspection", bridge.new_inspection],
  ["accept", bridge.accept],
  ["view", bridge.view],
  ["preview_level", bridge.preview_level],
  ["sheet", bridge.sheet],
  ["inspect_again", bridge.inspect_again],
  ["compare", bridge.compare],
  ["read_file", bridge.read_file],
  ["same", bridge.same],
  ["write_file", bridge.write_file],
  ["write_bench", bridge.write_bench],
  ["file_name", bridge.file_name],
  ["measure_recording", bridge.measure_recording],
  ["measure_wav", bridge.measure_wav],
  ["listen", bridge.listen],
  ["movie_box", bridge.movie_box],
  ["read_movie", bridge.read_movie],
  ["frame_strips", bridge.frame_strips],
  ["measure_frames", bridge.measure_frames],
  ["photo_head", bridge.photo_head],
  ["photo_strip", bridge.photo_strip],
  ["photo_light", bridge.photo_light],
  ["patch_difference", bridge.patch_difference],
  ["calibrate_phone", bridge.calibrate_phone],
  ["calibration_history", bridge.calibration_history],
  ["cities", bridge.cities],
  ["sun_view", bridge.sun_view],
  ["lamp_view", bridge.lamp_view],
  ["picture_about", bridge.picture_about],
  ["picture_factor", bridge.picture_factor],
  ["picture_strip", bridge.picture_strip],
  ["find_opening", bridge.find_opening],
  ["guess_openings", bridge.guess_openings],
  ["find_hole", bridge.find_hole],
  ["glare_sample", bridge.glare_sample],
  ["measure_glare", bridge.measure_glare],
  ["film_factor", bridge.film_factor],
  ["film_masked", bridge.film_masked],
  ["read_blank", bridge.read_blank],
  ["lay_out_wall", bridge.lay_out_wall],
  ["read_wall", bridge.read_wall],
  ["dose", bridge.dose],
  ["leak_picture", bridge.leak_picture],
]));

const ready = init({ module_or_path: new URL("./lampblack_bg.wasm", import.meta.url) });
// The rejection is told with the first question; nobody else listens for it.
ready.catch(() => {});

/**
 * A refusal is a plain `Error` with a sentence. Everything else (a trap, a stack that ran out, a fault of the glue) means
 * that the module can no longer be trusted.
 *
 * @param {unknown} error
 */
function isSentence(error) {
  return error instanceof Error && Object.getPrototypeOf(error) === Error.prototype;
}

self.addEventListener("message", async (event) => {
  const { id, question, values } = event.data;
  try {
    await ready;
  } catch (error) {
    self.postMessage({ id, unloaded: String(error) });
    return;
  }
  const ask = QUESTIONS.get(question);
  if (!ask) {
    self.postMessage({ id, sentence: `the bench has no answer to "${question}"` });
    return;
  }
  try {
    self.postMessage({ id, value: ask(...values) });
  } catch (error) {
    if (isSentence(error)) {
      self.postMessage({ id, sentence: /** @type {Error} */ (error).message });
    } else {
      self.postMessage({ id, trap: String(error) });
    }
  }
});
