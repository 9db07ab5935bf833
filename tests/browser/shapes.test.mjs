/**
 * The types that the page is checked with name the same fields as the shapes that the bench hands over.
 * Not here: whether the values fit, which crossing the bridge shows.
 */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { test } from "node:test";

const read = (path) => readFileSync(new URL(`../../${path}`, import.meta.url), "utf8");

/**
 * @param {string} text
 * @param {RegExp} block With the name and the body.
 * @param {RegExp} field
 */
function fields(text, block, field) {
  return Object.fromEntries([...text.matchAll(block)].map(([, name, body]) => [name, [...body.matchAll(field)].map(([, one]) => one)]));
}

test("the page's types follow the bench's shapes", () => {
  const rust = ["v1", "v1/shutter", "page", "page/shutter", "page/round", "page/photo", "page/sky", "v1/aperture", "v1/lens_measurements", "page/aperture", "v1/light_tight", "page/light_tight"].map((file) => fields(read(`crates/record/src/${file}.rs`), /pub struct (\w+) \{\n(.*?)\n\}/gs, /^\s+pub (\w+):/gm));
  const page = fields(read("www/bench/shapes.d.ts"), /export interface (\w+) \{\n(.*?)\n\}/gs, /^\s+(\w+): /gm);
  const wanted = Object.assign({}, ...rust);
  assert.ok(Object.keys(wanted).length > 40);
  assert.deepEqual(page, wanted);
});
