/**
 * The worker that owns the bench: takes one question after another, asks the module that answers it, sends the answer back under its
 * number. A module is fetched with the first question for it.
 * Not here: promises, restarting and the time of day, which are the client's.
 */

import "./simd.js";

/** Whether the modules that go through every sample and pixel may count several numbers at a time; their other build does without. */
const WIDE = /** @type {{ lampblackWide?: boolean }} */ (globalThis).lampblackWide === true;

/** @typedef {Exclude<keyof typeof import("./lampblack.js"), "default">} Question */

/** What most pages ask. @type {Question[]} */
const MOST = ["version", "places", "new_inspection", "accept", "view", "preview_level", "inspect_again", "dose"];

/** What can be asked, and nothing else: a name that is not here reaches no function. @type {{ name: string, glue: () => Promise<any>, module: URL, questions: Question[] }[]} */
const MODULES = [
  {
    name: "bench",
    glue: () => import("./lampblack-bench.js"),
    module: new URL("./lampblack-bench_bg.wasm", import.meta.url),
    questions: MOST,
  },
  {
    name: "paper",
    glue: () => import("./lampblack-paper.js"),
    module: new URL("./lampblack-paper_bg.wasm", import.meta.url),
    questions: [...MOST, "sheet", "compare", "read_file", "same", "write_file", "write_bench", "file_name"],
  },
  {
    name: "signals",
    glue: () => (WIDE ? import("./lampblack-signals.js") : import("./lampblack-signals-plain.js")),
    module: new URL(WIDE ? "./lampblack-signals_bg.wasm" : "./lampblack-signals-plain_bg.wasm", import.meta.url),
    questions: ["measure_recording", "measure_wav", "listen", "movie_box", "read_movie", "frame_strips", "measure_frames"],
  },
  {
    name: "pictures",
    glue: () => (WIDE ? import("./lampblack-pictures.js") : import("./lampblack-pictures-plain.js")),
    module: new URL(WIDE ? "./lampblack-pictures_bg.wasm" : "./lampblack-pictures-plain_bg.wasm", import.meta.url),
    questions: [
      "photo_head", "photo_strip", "photo_light", "patch_difference", "calibrate_phone", "calibration_history",
      "cities", "sun_view", "lamp_view",
      "picture_about", "picture_factor", "picture_strip", "find_opening", "guess_openings", "find_hole", "glare_sample", "measure_glare",
      "leak_picture",
      "film_factor", "film_masked", "read_blank", "lay_out_wall", "read_wall",
    ],
  },
];

/** What they answer is itself a text; the other texts are JSON, which the page reads. @type {Question[]} */
const TEXTS = ["version", "write_file", "write_bench", "file_name"];

/** More memory than this is given back when nothing is asked [bytes]; a module never does that by itself. */
const MUCH = 96 * 1024 * 1024;

/** @type {Map<(typeof MODULES)[number], Promise<any>>} */
const fetched = new Map();
/** @type {WebAssembly.Memory[]} */
const memories = [];

/**
 * The module for a question: one that is here already, or the one that the page will need anyway, or the smallest.
 *
 * @param {Question} question
 * @param {string} wanted
 */
function moduleFor(question, wanted) {
  const able = MODULES.filter(({ questions }) => questions.includes(question));
  return able.find((module) => fetched.has(module)) ?? able.find(({ name }) => name === wanted) ?? able[0];
}

/** @param {(typeof MODULES)[number]} module */
function ready(module) {
  let bridge = fetched.get(module);
  if (!bridge) {
    bridge = module.glue().then(async (glue) => {
      memories.push((await glue.default({ module_or_path: module.module })).memory);
      return glue;
    });
    fetched.set(module, bridge);
  }
  return bridge;
}

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
  const { id, question, values, wanted } = event.data;
  const module = moduleFor(question, wanted);
  if (!module) {
    self.postMessage({ id, sentence: `the bench has no answer to "${question}"` });
    return;
  }
  let bridge;
  try {
    bridge = await ready(module);
  } catch (error) {
    self.postMessage({ id, unloaded: String(error) });
    return;
  }
  try {
    const value = bridge[question](...values);
    const json = typeof value === "string" && !TEXTS.includes(question);
    self.postMessage({ id, value, json, heavy: memories.reduce((sum, { buffer }) => sum + buffer.byteLength, 0) > MUCH });
  } catch (error) {
    if (isSentence(error)) {
      self.postMessage({ id, sentence: /** @type {Error} */ (error).message });
    } else {
      self.postMessage({ id, trap: String(error) });
    }
  }
});
