/** Files out and in: one inspection, the whole bench, and what comes from another phone. Not here: what a file may hold. */
import { html } from "../vendor/lit-html/lit-html.js";
import { bench } from "../bench/client.js";
import { handOver, prepare } from "../capture/share.js";
import { ACCEPT, readText } from "../capture/take.js";
import * as inspections from "../store/inspections.js";
import * as photos from "../store/photos.js";
import * as settings from "../store/settings.js";
import { answer } from "../store/persist.js";
import { alertBox, key, run, show, to, wear } from "../view/frame.js";

wear(settings.theme());
/** @type {unknown} */
let wrong = "";
let done = "";
/** @type {any} */
let taken = null;

/** @param {() => Promise<string>} work */
async function doing(work) {
  try {
    wrong = "";
    done = await work();
  } catch (error) {
    wrong = error;
    done = "";
  }
  await draw();
}

/** @param {boolean} pictures */
const exportOne = (pictures) => doing(async () => {
  const row = await inspections.get(key);
  if (!row) {
    throw new Error("the camera is no longer here: look in the bin");
  }
  const theBench = await bench();
  const whole = pictures ? await photos.withPictures(row.inspection) : row.inspection;
  const way = await handOver(prepare(await theBench.fileName(whole), await theBench.writeFile(whole)));
  return way === "cancelled" ? "Not handed on." : "Handed on.";
});

const backup = () => doing(async () => {
  const rows = await inspections.list();
  const now = new Date().toISOString();
  const text = await (await bench()).writeBench(rows.map((/** @type {any} */ row) => row.inspection));
  const way = await handOver(prepare(`lampblack-bench-${now.slice(0, 10)}.json`, text));
  if (way !== "cancelled") {
    await settings.set("lastBackup", now);
  }
  return way === "cancelled" ? "No backup was made." : `A backup of ${rows.length} cameras was handed on.`;
});

/** @param {File | undefined} file */
const read = (file) => doing(async () => {
  taken = null;
  if (file) {
    taken = await (await bench()).readFile(await readText(file));
  }
  return "";
});

const takeIn = () => doing(async () => {
  let fresh = 0;
  for (const one of taken.inspections) {
    const { already } = await inspections.add(one);
    fresh += already ? 0 : 1;
  }
  const all = taken.inspections.length;
  taken = null;
  return `${fresh} taken in, ${all - fresh} were here already.`;
});

async function draw() {
  const row = key ? await inspections.get(key) : null;
  const last = await settings.get("lastBackup");
  const kept = await answer();
  show({
    title: "Hand on",
    back: key ? [to("inspection"), "Outcome"] : ["index.html", "Bench"],
    main: html`${alertBox(wrong)}${done ? html`<p class="card" role="status">${done}</p>` : ""}
      ${row ? html`<h2>This camera</h2><div class="buttons"><button @click=${() => exportOne(false)}>Hand on the file</button><button @click=${() => exportOne(true)}>With pictures</button></div>` : ""}
      <h2>Take in</h2><label class="name" for="in">An inspection file or a bench backup</label>
      <input type="file" id="in" accept=${ACCEPT} @change=${(/** @type {any} */ event) => read(event.target.files[0])} />
      ${taken ? html`<section class="card"><p>${taken.inspections.length} ${taken.inspections.length === 1 ? "camera" : "cameras"}:</p>
        <ul>${taken.inspections.slice(0, 20).map((/** @type {any} */ one) => html`<li>${[one.camera.maker, one.camera.model, one.camera.serial].join(" ")} – ${one.result?.outcome_words}</li>`)}</ul>
        ${taken.findings.map((/** @type {string} */ one) => html`<p class="small">${one}</p>`)}
        <p class="soft">Nothing has been written yet. What is here is never overwritten.</p><button class="main" @click=${takeIn}>Take in</button></section>` : ""}
      <h2>The whole bench</h2><p class="soft">Last backup: ${last ? String(last).slice(0, 10) : "never"}. ${kept === true ? "The phone has agreed to keep what is here." : "The phone may clear this when it runs short of room: make backups."}</p>
      <div class="buttons"><button @click=${backup}>Back up every camera</button></div>`,
  });
}

run(draw);
