/** The bin: removed cameras for thirty days. Not here: removing one (inspection.js). */
import { html } from "../vendor/lit-html/lit-html.js";
import * as bin from "../store/bin.js";
import { theme } from "../store/settings.js";
import { run, show, wear } from "../view/frame.js";

wear(theme());

async function draw() {
  await bin.purge();
  const rows = await bin.listRemoved();
  show({
    title: "Bin",
    back: ["index.html", "Bench"],
    main: html`<p class="soft">Removed cameras stay here for ${bin.DAYS} days.</p>
      <ul class="plain">${rows.map((/** @type {any} */ row) => html`<li class="row"><span>${[row.inspection.camera.maker, row.inspection.camera.model, row.inspection.camera.serial].join(" ").trim() || "Not named yet"}</span>
        <button @click=${() => bin.restore(row.key).then(draw)}>Put back</button></li>`)}</ul>
      ${rows.length > 0 ? html`<div class="buttons"><button @click=${() => bin.empty().then(draw)}>Empty the bin for good</button></div>` : html`<p>It is empty.</p>`}`,
  });
}

run(draw);
