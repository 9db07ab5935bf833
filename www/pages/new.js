/** A new camera: only its kind is asked. Not here: the rest of who it is (camera.js). */
import { html } from "../vendor/lit-html/lit-html.js";
import { bench } from "../bench/client.js";
import * as inspections from "../store/inspections.js";
import { theme } from "../store/settings.js";
import { askOnce } from "../store/persist.js";
import { run, show, wear } from "../view/frame.js";

wear(theme());

/** @param {string} kind */
async function begin(kind) {
  const made = await (await bench()).newInspection(kind);
  const { key } = await inspections.add(made.inspection);
  await askOnce();
  location.href = `camera.html?i=${encodeURIComponent(key)}`;
}

run(async () => {
  const lists = await (await bench()).lists();
  show({
    title: "New camera",
    back: ["index.html", "Bench"],
    main: html`<p>What kind is it? The rest can come later.</p>
      <div class="choices wide">${lists.kinds.map((one) => html`<button @click=${() => run(() => begin(one.key))}>${one.words}</button><p class="small">${one.help}</p>`)}</div>`,
  });
});
