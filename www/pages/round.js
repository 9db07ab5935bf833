/** The round: the points of one area, each with its condition, note and picture. Not here: which points there are. */
import { html } from "../vendor/lit-html/lit-html.js";
import { live } from "../vendor/lit-html/directives/live.js";
import { shrink } from "../capture/picture.js";
import * as photos from "../store/photos.js";
import { alertBox, show, to } from "../view/frame.js";
import { choose } from "../view/bits.js";
import { atDesk } from "./desk.js";

const wanted = new URLSearchParams(location.search).get("area") ?? "power";
/** @type {Map<string, string>} */
const pictures = new Map();
/** @type {unknown} */
let refused = "";

/** @param {any} draft @param {string} point */
function findingOf(draft, point) {
  let found = draft.findings.find((/** @type {any} */ one) => one.point === point);
  if (!found) {
    found = { point, condition: "not_checked", note: "", photos: [], at: "" };
    draft.findings.push(found);
  }
  found.at = new Date().toISOString();
  return found;
}

/** @param {any} desk @param {string} point @param {File | undefined} file */
async function addPicture(desk, point, file) {
  if (!file) {
    return;
  }
  try {
    const { blob, width, height } = await shrink(file);
    const id = crypto.randomUUID();
    await photos.putPhoto({ id, blob });
    refused = "";
    await desk.apply((/** @type {any} */ draft) => {
      draft.photos.push({ id, taken: new Date().toISOString(), media_type: blob.type, width_px: width, height_px: height, size_bytes: blob.size, data: null });
      findingOf(draft, point).photos.push(id);
    }, "picture");
  } catch (error) {
    refused = error;
    draw(desk, "");
  }
}

/** @param {any} desk @param {string} id */
function picture(desk, id) {
  if (!pictures.has(id)) {
    pictures.set(id, "");
    photos.url(id).then((url) => { pictures.set(id, url ?? ""); draw(desk, ""); });
  }
  const url = pictures.get(id);
  return url ? html`<img class="photo" src=${url} alt="Picture of this point" />` : "";
}

/** @param {any} desk @param {any} point */
const card = (desk, point) => html`<section class="card" id=${point.key}>
  <h3>${point.question}</h3>
  <p class="small">${point.costs_words} · ${point.source}</p>
  ${point.caution ? html`<p class="caution">${point.caution}</p>` : ""}
  ${choose({ legend: `Condition: ${point.condition_words}`, name: `c-${point.key}`, value: point.condition,
    options: point.choices.map((/** @type {any} */ one) => ({ key: one.key, words: one.words })),
    pick: (one) => desk.apply((/** @type {any} */ draft) => { findingOf(draft, point.key).condition = one; }, "condition") })}
  <p class="small" aria-live="polite">${point.choices.find((/** @type {any} */ one) => one.key === point.condition)?.looks}</p>
  <details><summary>What to look for</summary><dl>${point.choices.slice(0, 4).map((/** @type {any} */ one) => html`<dt><b>${one.words}</b></dt><dd>${one.looks}</dd>`)}</dl><p class="small">Usual remedy: ${point.remedy}</p></details>
  <label class="name" for="n-${point.key}">Note</label>
  <textarea id="n-${point.key}" .value=${live(point.note)} @change=${(/** @type {any} */ event) =>
    desk.apply((/** @type {any} */ draft) => { findingOf(draft, point.key).note = event.target.value; }, "note")}></textarea>
  ${point.picture_helps ? html`<label class="name" for="p-${point.key}">Picture</label><input type="file" id="p-${point.key}" accept="image/*" @change=${(/** @type {any} */ event) => addPicture(desk, point.key, event.target.files[0])} />` : ""}
  ${point.photos.map((/** @type {string} */ id) => picture(desk, id))}
</section>`;

/** @param {any} desk @param {unknown} wrong */
function draw(desk, wrong) {
  const areas = desk.view.areas;
  const at = Math.max(0, areas.findIndex((/** @type {any} */ area) => area.key === wanted));
  const [area, before, after] = [areas[at], areas[at - 1], areas[at + 1]];
  show({
    title: area.name,
    back: [to("inspection"), desk.view.title],
    main: html`${alertBox(wrong || refused)}<p class="soft">${area.progress} looked at. What you do not look at stays “not checked”.</p>
      ${area.points.map((/** @type {any} */ point) => card(desk, point))}`,
    foot: html`${before ? html`<a class="button" href=${to("round", { area: before.key })}>Back</a>` : ""}
      ${after ? html`<a class="button main" href=${to("round", { area: after.key })}>${after.name} (${after.progress})</a>` : html`<a class="button main" href=${to("inspection")}>Outcome</a>`}`,
  });
}

atDesk(draw);
