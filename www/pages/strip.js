/**
 * Photos of a strip: what it shows, how it lies, the picture with the frame's corners, and reading it; a wall takes up to four.
 * Not here: opening a photo (`strip-photo.js`); what was read (`roll.js`, `roll-answers.js`); keeping it (`strip-keep.js`).
 *
 * @import { Hand } from "./hand.js"
 * @import { StripPhoto } from "./strip-photo.js"
 */

import { bench } from "../bench/client.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { cornersOn } from "../view/corners.js";
import { asked, to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { show } from "../view/shell.js";
import { keepBlank, keepWall, readBlank, readWall, SLOTS } from "./strip-keep.js";
import { withCamera } from "./hand.js";
import { letGo, takeIn } from "./strip-photo.js";

const theBench = await bench();
/** What the photo shows: a blank frame's key, or `wall`. */
let shows = asked.get("of") ?? "closed";
let [lies, film, travel, time] = ["unknown", "135", "horizontal", ""];
let keepPicture = false;
/** Which of the wall's photos is in hand. */
let slot = "main";
/** @type {Map<string, StripPhoto>} By what it shows; the wall's by their slots. */
const photos = new Map();
let busy = "";
/** @type {unknown} */
let wrong = "";
/** @type {"" | "read"} */
let done = "";

const place = () => (shows === "wall" ? slot : "blank");
const photo = () => photos.get(place());

/** @param {Hand} hand @param {string} words @param {() => Promise<unknown>} work */
async function doing(hand, words, work) {
  [busy, wrong, done] = [words, "", ""];
  draw(hand);
  try {
    await work();
  } catch (error) {
    wrong = error;
  }
  busy = "";
  draw(hand);
}

/** @param {Hand} hand @param {File} file @param {number} turns @param {readonly number[]} [corners] */
const open = (hand, file, turns, corners) => doing(hand, "Opening the photo …", async () => {
  const taken = await takeIn(theBench, file, turns, corners);
  letGo(photo());
  photos.set(place(), taken);
});

/** @param {Hand} hand @param {Event} event */
function choose(hand, event) {
  const input = /** @type {HTMLInputElement} */ (event.target);
  const file = input.files?.[0];
  input.value = "";
  if (file) {
    // Photos of one table are alike: the corners begin where they were left.
    const before = photo() ?? photos.get("main");
    open(hand, file, before?.turns ?? 0, before?.corners);
  }
}

/** @param {Hand} hand */
const read = (hand) => doing(hand, "Measuring …", async () => {
  const here = photo();
  if (!here) {
    return;
  }
  if (shows === "wall") {
    await keepWall(hand, await readWall(theBench, photos, travel), time);
  } else {
    const { frame, taken, refusal: why } = await readBlank(theBench, here, film);
    here.taken = taken;
    if (why) {
      throw new Error(why);
    }
    await keepBlank(hand, { ...frame, frame: shows, lies, source: here.file.name }, keepPicture ? here.file : null);
  }
  done = "read";
});

/** @param {Hand} hand */
function picture(hand) {
  const here = photo();
  if (!here) {
    return nothing;
  }
  return html`${cornersOn({ address: here.address, words: "The strip", size: here.size, corners: here.corners, taken: here.taken,
      again: () => draw(hand),
      put: (corners) => {
        [here.taken, here.corners] = [[], corners];
        draw(hand);
      } })}
    <p class="small">Put 1 to 4 on the corners of the frame, 1 at its upper left as the strip lies. A blank frame shows no edge: it is eight holes long from the end of one neighbour to the beginning of the next, less the gap of 2 mm, and reaches up and down to just inside the holes. Near is near enough: up and down it snaps to the film's edges (broken line).</p>
    <div class="actions"><button type="button" @click=${() => open(hand, here.file, (here.turns + 1) % 4)}>Turn the photo by a quarter</button></div>`;
}

/** @param {Hand} hand */
function about(hand) {
  const view = hand.view.test_roll;
  const set = (/** @type {() => void} */ change) => { change(); draw(hand); };
  return html`${choice({ legend: "The photo shows the frame", name: "shows", layout: "wide", value: shows, options: [...view.blanks, { key: "wall", words: "the wall", help: "evenness of the shutter" }], pick: (key) => set(() => { shows = key; done = ""; }) })}
    ${shows === "wall"
      ? html`${choice({ legend: "Of the wall's photos, this is", name: "slot", layout: "even", value: slot, options: SLOTS.map((one) => ({ ...one, help: photos.has(one.key) ? "chosen" : one.help })), pick: (key) => set(() => { slot = key; }) })}
          ${choice({ legend: "The curtains run", name: "travel", value: travel, options: view.travels, pick: (key) => set(() => { travel = key; }) })}
          ${view.times.length > 0 ? choice({ legend: "Exposed at the marked time", name: "time", value: time, options: [{ key: "", words: "not said" }, ...view.times], pick: (key) => set(() => { time = key; }) }) : nothing}`
      : html`${choice({ legend: "On the photo the strip lies with", name: "lies", layout: "wide", value: lies, options: view.lies, pick: (key) => set(() => { lies = key; }) })}
          ${choice({ legend: "Film", name: "film", value: film, options: view.films, pick: (key) => set(() => { film = key; }) })}`}`;
}

/** @param {Hand} hand */
function draw(hand) {
  const here = photo();
  const told = hand.inspection.result?.test_roll;
  const last = shows === "wall" ? told?.walls.at(-1)?.sentence : told?.frames.at(-1)?.sentence;
  const picker = (/** @type {string} */ words, /** @type {string} */ look) => html`<label class="button file ${look}"><input type="file" id="strip-file" accept="image/*" @change=${(/** @type {Event} */ event) => choose(hand, event)} /><span>${words}</span></label>`;
  show({
    title: "Photo of a strip",
    about: hand.view.title,
    up: [to("roll"), "Test roll"],
    main: html`${refusal(wrong || hand.wrong)}${happened(busy || hand.news)}
      ${done && last ? html`<section class="card" aria-live="polite"><p><b>${last}</b></p><p><a class="tap" href=${to("roll")}>Map, drawing and all frames</a></p></section>` : nothing}
      ${picture(hand)}${about(hand)}
      ${here && shows !== "wall" ? html`<label class="tick"><input type="checkbox" .checked=${keepPicture} @change=${() => { keepPicture = !keepPicture; }} /><span>Keep the picture as evidence, small and without metadata</span></label>` : nothing}
      <p class="small">Photos are measured on this phone and thrown away.</p>
      ${here ? html`<div class="actions">${picker("Another photo", "")}</div>` : nothing}`,
    foot: here
      ? html`<a class="button" href=${to("roll")}>Test roll</a><button type="button" class="main" ?disabled=${busy !== "" || (shows === "wall" && !photos.has("main"))} @click=${() => read(hand)}>${shows === "wall" ? "Work the wall out" : "Read the frame"}</button>`
      : html`<a class="button" href=${to("roll")}>Test roll</a>${picker("Choose the photo", "main")}`,
  });
}

withCamera(draw, async (hand) => {
  // As the last strip lay, so the next one will.
  const before = hand.inspection.test_roll.frames.at(-1);
  [lies, film] = [before?.lies || lies, before?.film || film];
});
