/** Look, constants with their reasons, cautions of the bench. Not here: anything of one camera. */
import { html } from "../vendor/lit-html/lit-html.js";
import { bench } from "../bench/client.js";
import * as settings from "../store/settings.js";
import { run, show, wear } from "../view/frame.js";
import { choose } from "../view/bits.js";

wear(settings.theme());
/** @type {Record<string, string>} */
const WORDS = { auto: "as the phone", light: "light", dark: "dark", contrast: "high contrast" };

async function draw() {
  const lists = await (await bench()).lists();
  show({
    title: "More",
    back: ["index.html", "Bench"],
    main: html`${choose({ legend: "Look", name: "theme", value: settings.theme(), options: settings.THEMES.map((key) => ({ key, words: WORDS[key] ?? key })), pick: (key) => settings.set("theme", key).then(() => { wear(settings.theme()); return draw(); }) })}
      <div class="buttons"><a class="button" href="file.html">Files and backup</a><a class="button" href="bin.html">Bin</a></div>
      <h2>Constants</h2>${lists.constants.map((one) => html`<p>${one}</p>`)}
      ${lists.references.filter((one) => one.key === "lux").map((one) => html`<p>${one.constants}</p>`)}
      <h2>Cautions</h2>${lists.cautions.map((one) => html`<p class="caution">${one}</p>`)}
      <p class="small">Tolerances and what points look like are common practice at the bench unless a source is named.</p>
      <p class="small">${lists.program}. Nothing leaves this phone.</p>`,
  });
}

run(draw);
