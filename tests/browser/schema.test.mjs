/**
 * The shipped JSON Schema, held against the demo's files by a validator that is not ours. Not here: our own reading, which goes
 * further (`tests/records`).
 */

import assert from "node:assert/strict";
import { readFileSync } from "node:fs";
import { join } from "node:path";
import { test } from "node:test";
import Ajv2020 from "ajv/dist/2020.js";

const site = process.env.LAMPBLACK_SITE ?? "target/site";
const read = (/** @type {string} */ name) => JSON.parse(readFileSync(join(site, name), "utf8"));
const Ajv = /** @type {any} */ (Ajv2020).default ?? Ajv2020;

test("every inspection of the demo keeps to the schema, and broken ones do not", () => {
  const ajv = new Ajv({ strict: false, allErrors: true, validateFormats: false });
  const valid = ajv.compile(read("schema/lampblack-inspection-1.json"));
  const { inspections } = read("demo/bench.json");
  assert.equal(inspections.length, 5);
  for (const one of inspections) {
    assert.ok(valid(one), JSON.stringify(valid.errors));
  }
  const [first] = inspections;
  for (const broken of [{ ...first, version: 2 }, { ...first, camera: "Halden" }, { ...first, id: undefined }, { ...first, revision: "one" }]) {
    assert.ok(!valid(JSON.parse(JSON.stringify(broken))), "a broken inspection passed");
  }
});
