/**
 * Taking pictures and files in, handing files over, and drawings as SVG, each through a real page of the site.
 * Not here: what a file holds (`bench.test.mjs`); how a drawing looks.
 */

import assert from "node:assert/strict";
import { address, onPhone } from "./support.mjs";

onPhone("a picture is shrunk and loses its metadata", async ({ page }) => {
  await page.goto(address());
  const seen = await page.evaluate(async () => {
    const { shrink } = await load("capture/picture.js");
    const canvas = Object.assign(document.createElement("canvas"), { width: 2000, height: 3000 });
    const context = canvas.getContext("2d");
    context.fillStyle = "#a40";
    context.fillRect(0, 0, 2000, 3000);
    const plain = new Uint8Array(await (await new Promise((resolve) => canvas.toBlob(resolve, "image/jpeg"))).arrayBuffer());
    // An application segment as a camera writes it, with a place in it.
    const words = new TextEncoder().encode("Exif\0\0GPS 51.5N 0.1W serial 12345");
    const segment = new Uint8Array([255, 225, 0, words.length + 2, ...words]);
    const tagged = new Blob([plain.slice(0, 2), segment, plain.slice(2)], { type: "image/jpeg" });
    const text = async (blob) => new TextDecoder("latin1").decode(await blob.arrayBuffer());
    const { blob, width, height } = await shrink(tagged);
    const small = await shrink(await new Promise((resolve) => Object.assign(document.createElement("canvas"), { width: 40, height: 30 }).toBlob(resolve)));
    const bitmap = await createImageBitmap(blob);
    return { before: (await text(tagged)).includes("GPS 51.5N"), after: /Exif|GPS|serial/.test(await text(blob)), size: [width, height],
      real: [bitmap.width, bitmap.height], type: blob.type, small: [small.width, small.height, small.blob.type] };
  });
  assert.deepEqual(seen, { before: true, after: false, size: [1067, 1600], real: [1067, 1600], type: "image/jpeg", small: [40, 30, "image/jpeg"] });
});

onPhone("what is no picture gets a sentence", async ({ page }) => {
  await page.goto(address());
  const said = await page.evaluate(async () => {
    const { shrink } = await load("capture/picture.js");
    const why = (file) => shrink(file).then(() => null, (error) => `${error.name}: ${error.message}`);
    const heic = new Uint8Array([0, 0, 0, 24, ...new TextEncoder().encode("ftypheic"), 0, 0, 0, 0]);
    const megabyte = new Uint8Array(1024 * 1024);
    return [
      await why(new File([heic], "a.jpg", { type: "image/jpeg" })),
      await why(new File(["x"], "IMG_1.HEIC")),
      await why(new File(["not a picture"], "a.jpg", { type: "image/jpeg" })),
      await why(new File([], "a.jpg")),
      await why(new File(Array(26).fill(megabyte), "a.jpg")),
    ];
  });
  assert.match(said[0], /^CaptureError: .*HEIC/);
  assert.match(said[1], /^CaptureError: .*HEIC/);
  assert.match(said[2], /^CaptureError: “a.jpg” cannot be opened/);
  assert.match(said[3], /^CaptureError: “a.jpg” cannot be opened/);
  assert.match(said[4], /^CaptureError: “a.jpg” is 26 MB long, and at most 25 MB/);
});

onPhone("a file is read as text only where it can be one", async ({ page }) => {
  await page.goto(address());
  const said = await page.evaluate(async () => {
    const { readText } = await load("capture/take.js");
    const why = (file) => readText(file).catch((error) => `${error.name}: ${error.message}`);
    const megabyte = new Uint8Array(1024 * 1024).fill(32);
    const large = new File(Array(200).fill(megabyte), "a.json");
    large.arrayBuffer = large.text = large.stream = () => {
      throw new Error("it was read");
    };
    return [
      await why(new File(["{}"], "a.json")),
      await why(new File(["{}"], "a.json.txt")),
      await why(large),
      await why(new File(["{}"], "a.exe")),
      await why(new File([new Uint8Array([255, 254, 0, 216])], "a.json")),
    ];
  });
  assert.deepEqual(said.slice(0, 2), ["{}", "{}"]);
  assert.match(said[2], /^CaptureError: This file is 200 MB long, and at most 20 MB are taken/);
  assert.match(said[3], /^CaptureError: .*\.json or \.txt/);
  assert.match(said[4], /^CaptureError: This file is no text/);
});

onPhone("a file goes the first way that the phone takes", async ({ page }) => {
  await page.goto(address());
  const downloading = page.waitForEvent("download");
  const seen = await page.evaluate(async () => {
    const { prepare, handOver } = await load("capture/share.js");
    const parcel = prepare("lampblack-halden.json", '{"a":1}\n');
    const ways = [];
    let refusal = null;
    const shared = [];
    const takes = (pattern) => {
      navigator.canShare = ({ files }) => pattern.test(files[0].name);
      navigator.share = async ({ files }) => {
        if (refusal) {
          throw new DOMException("no", refusal);
        }
        shared.push([files[0].name, files[0].type, await files[0].text()]);
      };
    };
    takes(/\.json$/);
    ways.push(await handOver(parcel));
    takes(/\.txt$/);
    ways.push(await handOver(parcel));
    refusal = "AbortError";
    ways.push(await handOver(parcel));
    refusal = "NotAllowedError";
    ways.push(await handOver(parcel));
    takes(/never/);
    Object.defineProperty(navigator, "standalone", { value: true, configurable: true });
    ways.push(await handOver(parcel).catch((error) => error.name));
    return { ways, shared };
  });
  assert.deepEqual(seen.ways, ["shared", "shared_as_text", "cancelled", "downloaded", "CaptureError"]);
  assert.deepEqual(seen.shared, [
    ["lampblack-halden.json", "application/json", '{"a":1}\n'],
    ["lampblack-halden.json.txt", "text/plain", '{"a":1}\n'],
  ]);
  assert.equal((await downloading).suggestedFilename(), "lampblack-halden.json");
});

onPhone("a recording keeps what belongs to the take, and says where samples and clock parted", async ({ page }) => {
  await page.goto(address());
  const seen = await page.evaluate(async () => {
    const { Recording } = await load("capture/recording.js");
    const RATE = 40960;
    const chunk = (value, right = null, holes = 0) => ({ left: new Float32Array(4096).fill(value), right: right === null ? null : new Float32Array(4096).fill(right), holes });
    const one = new Recording(RATE);
    one.deaf(0.1);
    for (let i = 0; i < 6; i += 1) {
      one.add(chunk(i, i), 1000 + i * 100);
    }
    const last = one.last(0.15);
    one.forget(0.25, 0);
    const forgot = one.length_s;
    one.forget(9, 0.2);
    const protectedUntil = one.length_s;
    const two = new Recording(RATE);
    two.add(chunk(1, 1), 0);
    two.add(chunk(2, 3), 100);
    const steady = new Recording(RATE);
    const jumped = new Recording(RATE);
    const torn = new Recording(RATE);
    for (let i = 0; i < 100; i += 1) {
      steady.add(chunk(1), i * 100 + (i % 4) * 15);
      jumped.add(chunk(1), i * 100 + (i > 50 ? 12 : 0));
      torn.add(chunk(1, null, i === 7 ? 1 : 0), i * 100);
    }
    return { last: [last.samples.length, last.samples[0], last.from_s], forgot, protectedUntil, same: one.channels(true).length,
      two: two.channels(true).map((channel) => [channel[0], channel[4096]]), wanted: two.channels(false).length,
      steady: steady.continuity(), jumped: jumped.continuity().notice, torn: torn.continuity().notice };
  });
  assert.deepEqual(seen.last, [8192, 4, 0.3]);
  assert.ok(Math.abs(seen.forgot - 0.3) < 1e-9 && Math.abs(seen.protectedUntil - 0.2) < 1e-9);
  assert.deepEqual([seen.same, seen.two, seen.wanted], [1, [[1, 2], [1, 3]], 1]);
  assert.equal(seen.steady.notice, "");
  assert.match(seen.steady.line, /within 1 ms over 10 s, 0 holes/);
  assert.match(seen.jumped, /about 12 ms/);
  assert.match(seen.torn, /has a hole/);
});

onPhone("a drawing is an image with a name, its marks in their roles", async ({ page }) => {
  await page.goto(address());
  const seen = await page.evaluate(async () => {
    const { render } = await load("vendor/lit-html/lit-html.js");
    const { drawing } = await load("plot/drawing.js");
    const mark = (shape, role, more = {}) => ({ shape, role, x: 1, y: 2, x2: 3, y2: 4, points: [], text: "", anchor: "", ...more });
    const made = { width: 320, height: 40, title: "Error <b>over</b> the light", description: "Two levels & a band", marks: [
      mark("rectangle", "band"), mark("line", "zero"), mark("dot", "over"), mark("text", "label", { text: "<i>0.4</i>", anchor: "middle" }),
      mark("path", "doubt", { points: [0, 0, 5, 5, 9, 0] }), mark("path", "fit", { points: [0, 1, 2, 3] }),
    ] };
    const box = document.createElement("div");
    document.body.append(box);
    render(drawing(made), box);
    const id = box.querySelector("title").id;
    render(drawing(made), box);
    const image = box.querySelector("svg");
    return { role: image.getAttribute("role"), box: image.getAttribute("viewBox"), name: image.querySelector("title").textContent,
      description: image.querySelector("desc").textContent, labelled: image.getAttribute("aria-labelledby") === id, same: image.querySelector("title").id === id,
      marks: [...image.querySelectorAll("[class^=m-]")].map((one) => [one.namespaceURI.endsWith("svg"), one.localName, one.getAttribute("class"), one.getAttribute("d")]),
      text: image.querySelector("text").textContent };
  });
  assert.deepEqual(seen, {
    role: "img", box: "0 0 320 40", name: "Error <b>over</b> the light", description: "Two levels & a band", labelled: true, same: true,
    marks: [
      [true, "path", "m-band", "M1 2H3V4H1Z"], [true, "line", "m-zero", null], [true, "circle", "m-over", null], [true, "text", "m-label", null],
      [true, "path", "m-doubt", "M0 0L5 5L9 0Z"], [true, "path", "m-fit", "M0 1L2 3"],
    ],
    text: "<i>0.4</i>",
  });
});
