/**
 * The bench behind its worker: answers, refusals, bad files, a bench that gives out, the newest question winning.
 * Not here: whether the answers are right, which the Rust tests see.
 */

import assert from "node:assert/strict";
import { address, onPhone } from "./support.mjs";

onPhone("every question has an answer", async ({ page }) => {
  await page.goto(address());
  const seen = await page.evaluate(async () => {
    const bench = await (await load("bench/client.js")).bench();
    const { inspection, view } = await bench.newInspection("rangefinder");
    const accepted = await bench.accept(inspection);
    const text = await bench.writeFile(accepted.inspection);
    const back = await bench.readFile(text);
    const many = await bench.readFile(await bench.writeBench([accepted.inspection, inspection]));
    return {
      version: await bench.version(), kinds: (await bench.lists()).kinds.length, id: inspection.id, revisions: [inspection.revision, accepted.inspection.revision],
      places: (await bench.places(["5.6", "8"], "third", "f_number")).map((place) => place.mark), areas: view.areas.length,
      again: (await bench.view(accepted.inspection)).inspection.revision, blocks: (await bench.sheet(accepted.inspection)).blocks.length,
      back: back.inspections.length, findings: back.findings, many: [many.kind, many.inspections.length],
      same: [await bench.same(inspection, accepted.inspection), await bench.same(inspection, { ...inspection, notes: "x" })],
      name: await bench.fileName(inspection), text: text === (await bench.writeFile(back.inspections[0])),
    };
  });
  assert.match(seen.version, /^lampblack \d/);
  assert.ok(seen.kinds >= 6 && seen.areas >= 5 && seen.blocks > 3);
  assert.match(seen.id, /^[0-9a-f]{8}-[0-9a-f]{4}-7[0-9a-f]{3}-[89ab][0-9a-f]{3}-[0-9a-f]{12}$/);
  assert.deepEqual(seen.revisions, [1, 2]);
  assert.equal(seen.again, 2);
  assert.deepEqual(seen.places, ["5.6", "5.6+1/3", "5.6+2/3", "8"]);
  assert.deepEqual([seen.back, seen.findings, seen.many], [1, [], ["bench", 2]]);
  assert.deepEqual(seen.same, [true, false]);
  assert.match(seen.name, /^lampblack.*\.json$/);
  assert.equal(seen.text, true, "what was written and read is written the same");
});

const file = (inner) => `{"format":"lampblack-inspection","version":1,"id":"a","camera":{"kind":"rangefinder"}${inner}}`;
const level = (reference, reading, count = 1) =>
  file(`,"meter":{"runs":[{"reference":{"kind":"meter","each_doubt_stops":0.2,"shared_doubt_stops":0.2},"tolerance_stops":0.5,"film_speed":"100","levels":[${Array(count).fill(`{"reference":${reference},"readings":[${reading}]}`)}]}]}`);
const setting = (f, time, speed) => `{"way":"setting","setting":{"f_number":"${f}","time":"${time}","film_speed":"${speed}"}}`;
const reading = (f, time, speed) => setting(f, time, speed).replace("}}", '},"resolution":"half"}');

/** What is in a file, and what the sentence must name. */
const BAD = [
  ["empty", "", /empty/],
  ["blank", " \n ", /empty/],
  ["cut off", file(',"notes":"x"').slice(0, -9), /too early|cut off/],
  ["no JSON", "Dear Sir", /no inspection|no JSON/],
  ["a list", "[]", /cannot be read|no inspection|no JSON/],
  ["another format", '{"format":"other","version":1}', /"other"/],
  ["a newer version", file("").replace('"version":1', '"version":2'), /version 2.*update/],
  ["a key twice", file(',"notes":"a","notes":"b"'), /"notes".*twice/],
  ["200,000 levels deep", '{"format":'.concat("[".repeat(200_000)), /deep/],
  ["200,000 objects deep", '{"a":'.repeat(200_000).concat("1", "}".repeat(200_000)), /deep/],
  ["no number", file(',"meter":{"runs":[{"tolerance_stops":NaN}]}'), /no JSON|number/],
  ["a number beyond all", file(',"meter":{"runs":[{"tolerance_stops":1e999}]}'), /number/],
  ["a text for a number", file(',"meter":{"runs":[{"tolerance_stops":"wide"}]}'), /wide|number|f64|string/],
  ["no id", file("").replace('"id":"a",', ""), /no id/],
  ["no kind", '{"format":"lampblack-inspection","version":1,"id":"a"}', /kind/],
  ["an unknown kind", file("").replace("rangefinder", "teapot"), /teapot/],
  ["time 1/0", level(setting("8", "1/0", "100"), reading("8", "1/60", "100")), /1\/0/],
  ["f-number −2", level(setting("-2", "1/60", "100"), reading("8", "1/60", "100")), /-2/],
  ["film speed 0", level(setting("8", "1/60", "0"), reading("8", "1/60", "100")), /film speed.*"0"/],
  ["EV 400", level('{"way":"ev","typed":"400"}', reading("8", "1/60", "100")), /400/],
  ["EV NaN", level('{"way":"ev","typed":"NaN"}', reading("8", "1/60", "100")), /NaN/i],
  ["a reference without a doubt", level('{"way":"ev","typed":"10"}', reading("8", "1/60", "100")).replaceAll("doubt_stops\":0.2", "doubt_stops\":0"), /doubt|uncertainty/],
  ["a doubt below zero", level('{"way":"ev","typed":"10"}', reading("8", "1/60", "100")).replace("0.2", "-1"), /doubt|uncertainty/],
  ["too long a note", file(`,"notes":"${"x".repeat(20_001)}"`), /note.*20001/],
];

onPhone("every bad file is refused with a sentence, and nothing is written", async ({ page }) => {
  await page.goto(address());
  const said = await page.evaluate(async (texts) => {
    const { bench, BenchError } = await load("bench/client.js");
    const asked = await bench();
    const said = [];
    for (const text of texts) {
      said.push(await asked.readFile(text).then(
        () => "it was taken",
        (error) => (error instanceof BenchError && !error.inside && !error.unloaded ? error.message : `no sentence: ${error}`),
      ));
    }
    const rows = (await (await load("store/inspections.js")).list()).length;
    return { said, rows };
  }, BAD.map(([, text]) => text));
  const wrong = BAD.flatMap(([name, , wanted], i) => (wanted.test(said.said[i]) && !/^no sentence|^it was taken/.test(said.said[i]) ? [] : [`${name}: ${said.said[i]}`]));
  assert.deepEqual(wrong, []);
  assert.equal(said.rows, 0);
});

onPhone("odd files that can be read are read, with findings, and do no harm", async ({ page }) => {
  await page.goto(address());
  const seen = await page.evaluate(async (texts) => {
    const asked = await (await load("bench/client.js")).bench();
    const taken = [];
    for (const text of texts) {
      taken.push(await asked.readFile(text));
    }
    return { taken, polluted: {}.polluted, plain: Object.getPrototypeOf(taken[0].inspections[0]) === Object.prototype };
  }, [
    file(',"__proto__":{"polluted":1},"constructor":{"prototype":{"polluted":1}}'),
    file(',"notes":"<script>document.title=1</script><img src=x onerror=alert(1)>"'),
    file(',"colour":"black"'),
    file(',"meter":{"runs":[]}'),
    level(setting("8", "1/60", "100"), reading("8", "1/60", "100")),
    level(setting("8", "1/60", "100"), reading("8", "1/30", "100"), 5),
  ]);
  assert.equal(seen.polluted, undefined);
  assert.equal(seen.plain, true);
  assert.ok(seen.taken[0].findings.some((text) => text.includes("__proto__")), "an odd key is named");
  assert.equal(seen.taken[1].inspections[0].notes, "<script>document.title=1</script><img src=x onerror=alert(1)>");
  assert.ok(seen.taken[2].findings.some((text) => text.includes("colour")));
  assert.equal(seen.taken[3].inspections[0].result.meter, null, "an empty run is none");
  assert.equal(seen.taken[4].inspections[0].result.meter.levels.length, 1, "what the bad ones are made from is sound");
  assert.equal(seen.taken[5].inspections[0].result.meter.slope_stops_per_stop, null, "levels that are all alike carry no slope");
  assert.deepEqual(seen.taken[2].inspections[0].foreign, [{ path: "colour", json: '"black"' }]);
});

onPhone("a trap costs one question and nothing that was kept", async ({ page, context }) => {
  // A worker whose bench traps at a sheet, once for each worker that is started.
  await context.route("**/bench/worker.js", async (route) => {
    const response = await route.fetch();
    const text = (await response.text()).replace(
      "bridge[question](...values)",
      '(question === "sheet" ? (() => { throw new WebAssembly.RuntimeError("unreachable"); })() : bridge[question](...values))',
    );
    await route.fulfill({ response, body: text });
  });
  await page.addInitScript(() => {
    globalThis.started = 0;
    globalThis.Worker = class extends Worker {
      constructor(...values) {
        super(...values);
        started += 1;
      }
    };
  });
  await page.goto(address());
  const seen = await page.evaluate(async () => {
    const bench = await (await load("bench/client.js")).bench();
    const { add, get } = await load("store/inspections.js");
    const { inspection } = await bench.newInspection("rangefinder");
    const { key } = await add(inspection);
    const before = started;
    const [failure, behind] = await Promise.all([
      bench.sheet(inspection).then(() => null, (error) => ({ name: error.name, message: error.message, inside: error.inside })),
      bench.version(),
    ]);
    return { failure, behind, after: await bench.version(), more: started - before, kept: (await get(key)) !== undefined };
  });
  assert.deepEqual(seen.failure, { name: "BenchError", message: "Something went wrong inside; your camera is kept. Try again.", inside: true });
  assert.match(seen.behind, /^lampblack/, "the question behind it is answered by the next worker");
  assert.match(seen.after, /^lampblack/);
  assert.equal(seen.more, 1);
  assert.equal(seen.kept, true);
});

onPhone("an error of the worker itself ends what was asked, and the next question starts anew", async ({ page }) => {
  await page.addInitScript(() => {
    globalThis.workers = [];
    globalThis.Worker = class extends Worker {
      constructor(...values) {
        super(...values);
        workers.push(this);
      }
    };
  });
  await page.goto(address());
  const seen = await page.evaluate(async () => {
    const bench = await (await load("bench/client.js")).bench();
    await bench.version();
    const asked = bench.places([], "whole", "time").then(() => null, (error) => error.message);
    workers.at(-1).dispatchEvent(new ErrorEvent("error", { message: "out of memory", cancelable: true }));
    return { failure: await asked, after: await bench.version() };
  });
  assert.equal(seen.failure, "Something went wrong inside; your camera is kept. Try again.");
  assert.match(seen.after, /^lampblack/);
});

onPhone("a bench that cannot be loaded says so, and an edit waits for it", async ({ page, context }) => {
  await page.goto(address());
  const key = await page.evaluate(async () => {
    const { inspection } = await (await (await load("bench/client.js")).bench()).newInspection("rangefinder");
    return (await (await load("store/inspections.js")).add(inspection)).key;
  });
  await context.route("**/*_bg.wasm", (route) => route.abort());
  const seen = await page.evaluate(async (key) => {
    const { Bench } = await load("bench/client.js");
    const { Desk } = await load("store/edit.js");
    const { get } = await load("store/inspections.js");
    const { inspection } = await get(key);
    // A bench that was never asked before has no module yet.
    const failure = await new Bench().version().then(() => null, (error) => ({ message: error.message, unloaded: error.unloaded }));
    const accept = Bench.prototype.accept;
    const fresh = new Bench();
    Bench.prototype.accept = (value) => accept.call(fresh, value);
    const desk = new Desk(key, { inspection, view: null });
    const failed = new Promise((resolve) => desk.on("failed", resolve));
    const kept = await desk.change(["camera", "maker"], "Halden");
    return { failure, kept, waiting: (await failed).waiting, written: (await load("store/journal.js")).pending(key).length };
  }, key);
  assert.match(seen.failure.message, /could not be loaded/);
  assert.equal(seen.failure.unloaded, true);
  assert.deepEqual([seen.kept, seen.waiting, seen.written], [false, true, 1]);
}, { expected: [/Failed to load resource/] });

onPhone("of many previews only the newest counts", async ({ page }) => {
  await page.goto(address());
  const seen = await page.evaluate(async () => {
    const bench = await (await load("bench/client.js")).bench();
    const latest = bench.latest("places");
    const answers = await Promise.all(
      ["whole", "half", "nonsense", "third"].map((between) => latest(["5.6", "8"], between, "f_number")),
    );
    const alone = await bench.latest("places")(["8"], "whole", "f_number");
    const failure = await latest(["8"], "nonsense", "f_number").then(() => null, (error) => error.message);
    return { counts: answers.map((answer) => answer?.length), alone: alone.length, failure };
  });
  assert.deepEqual(seen.counts, [undefined, undefined, undefined, 4]);
  assert.equal(seen.alone, 1);
  assert.match(seen.failure, /nonsense/);
});
