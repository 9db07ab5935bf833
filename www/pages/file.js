/**
 * Files out: one camera, or the whole bench. What is handed over is made ready before the tap.
 * Not here: files in (`take-in.js`); the ways of handing over (`capture/share.js`).
 *
 * @import { Parcel, Way } from "../capture/share.js"
 * @import { Row } from "../store/database.js"
 */

import { bench } from "../bench/client.js";
import { handOver, prepare } from "../capture/share.js";
import { carryOver } from "../store/edit.js";
import * as inspections from "../store/inspections.js";
import { answer } from "../store/persist.js";
import { withPictures } from "../store/photos.js";
import * as settings from "../store/settings.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { at, key, to } from "../view/links.js";
import { happened, refusal } from "../view/notice.js";
import { run, show } from "../view/shell.js";
import { nameOf } from "./name.js";
import { takeIn } from "./take-in.js";

/** @typedef {"bare" | "pictures" | "bench"} Kind */

/** @type {Record<Kind, Parcel | null>} */
const parcels = { bare: null, pictures: null, bench: null };
/** @type {Record<Kind, unknown>} What went wrong, by what was to be handed over. */
const wrong = { bare: "", pictures: "", bench: "" };
/** @type {Record<Kind, string>} What has happened, likewise. */
const news = { bare: "", pictures: "", bench: "" };
/** @type {Record<Way, string>} */
const WAYS = { shared: "Handed on.", shared_as_text: "Handed on, as a text file: it can be taken in like that.", downloaded: "Saved among the phone's downloads.", cancelled: "Not handed on." };

/** @type {Row | undefined} */
let row;
/** @type {Row[]} */
let rows = [];
let last = "";
/** @type {boolean | null} */
let kept = null;

/** @param {Kind} kind @param {() => Promise<[name: string, text: string]>} make */
async function ready(kind, make) {
  try {
    parcels[kind] = prepare(...(await make()));
  } catch (error) {
    wrong[kind] = error;
  }
  draw();
}

/** @param {Kind} kind @param {Parcel} parcel */
async function give(kind, parcel) {
  [wrong[kind], news[kind]] = ["", ""];
  try {
    const way = await handOver(parcel);
    news[kind] = WAYS[way];
    if (kind === "bench" && way !== "cancelled") {
      last = new Date().toISOString();
      await settings.set("lastBackup", last);
    }
  } catch (error) {
    wrong[kind] = error;
  }
  draw();
}

/** @param {Kind} kind @param {string} words @param {boolean} [main] */
function button(kind, words, main = false) {
  const parcel = parcels[kind];
  return html`<button type="button" class=${main ? "main" : ""} ?disabled=${!parcel} @click=${() => parcel && give(kind, parcel)}>${parcel || wrong[kind] ? words : "One moment …"}</button>`;
}

/** @param {Kind} kind */
const said = (kind) => html`${refusal(wrong[kind])}${happened(news[kind])}`;

/** @param {Row} row */
function one(row) {
  const count = row.inspection.photos.length;
  return html`<h2>Hand on: ${nameOf(row.inspection)}</h2>
    <p class="soft">One file that holds everything entered and everything worked out. On another phone it can be taken in.</p>
    ${said("bare")}${said("pictures")}
    ${count > 0 ? html`<p class="soft">Its pictures make it larger, and go with it only if you say so.</p><div class="actions">${button("pictures", count === 1 ? "With its picture" : `With its ${count} pictures`)}</div>` : nothing}`;
}

const backup = () => html`<h2>Back up the whole bench</h2>
  <p class="soft">${last ? `Last backup: ${last.slice(0, 10)}.` : "There is no backup yet."}
    ${kept === true ? "The browser has promised to keep what is here." : kept === false ? "The browser may clear this store when the phone runs short of room, so back up now and then." : ""}
    Pictures are not part of it.</p>
  ${said("bench")}
  <div class="actions">${rows.length > 0 ? button("bench", rows.length === 1 ? "Back up one camera" : `Back up ${rows.length} cameras`) : html`<p>There is nothing on the bench yet.</p>`}</div>`;

function draw() {
  show({
    title: "Files",
    about: row ? nameOf(row.inspection) : "",
    up: row ? [to("inspection"), nameOf(row.inspection)] : [at("index"), "Bench"],
    main: html`${key && !row ? refusal("This camera is not on the bench. It may lie in the bin.") : nothing}${row ? one(row) : nothing}${takeIn(draw, renew)}${backup()}`,
    foot: row ? html`<a class="button" href=${to("inspection")}>Back</a>${button("bare", "Hand on the file", true)}` : html`<a class="button" href=${at("index")}>To the bench</a>`,
  });
}

/** Makes everything ready that could be handed over. */
async function renew() {
  row = key ? await inspections.get(key) : undefined;
  rows = await inspections.list();
  draw();
  const theBench = await bench("paper");
  const here = row?.inspection;
  if (here) {
    await ready("bare", async () => [await theBench.fileName(here), await theBench.writeFile(here)]);
    if (here.photos.length > 0) {
      await ready("pictures", async () => [await theBench.fileName(here), await theBench.writeFile(await withPictures(here))]);
    }
  }
  if (rows.length > 0) {
    const day = new Date().toISOString().slice(0, 10);
    await ready("bench", async () => [`lampblack-bench-${day}.json`, await theBench.writeBench(rows.map((one) => one.inspection))]);
  }
}

run(async () => {
  last = String((await settings.get("lastBackup")) ?? "");
  kept = await answer();
  await carryOver();
  await renew();
});
