/** One camera: its outcome with reasons, what is open, its areas. Not here: how that comes about, which the bench works out. */
import { html } from "../vendor/lit-html/lit-html.js";
import * as bin from "../store/bin.js";
import { alertBox, key, show, to } from "../view/frame.js";
import { call, field, reasons } from "../view/bits.js";
import { atDesk } from "./desk.js";

atDesk((desk, wrong) => {
  const { result, costs, notes } = desk.inspection;
  const next = desk.view.areas.find((area) => area.checked < area.total) ?? desk.view.areas[0];
  if (!result || !next) {
    return;
  }
  show({
    title: desk.view.title,
    back: ["index.html", "Bench"],
    main: html`${alertBox(wrong)}
      <section class="card" aria-live="polite">${call(result.outcome, result.outcome_words)}<p>${result.outcome_sentence}</p><p class="small">${desk.view.progress}</p></section>
      ${reasons("Reasons", result.reasons)}${result.outcome === "ready_with_limits" ? "" : reasons("Limits", result.limits)}
      ${reasons("Remedies", result.remedies)}${reasons("Cautions", result.cautions)}
      <h2>Areas</h2>
      <ul class="plain">${desk.view.areas.map((area) => html`<li class="row"><a class="tap" href=${to("round", { area: area.key })}>${area.name}</a><span class="soft">${area.progress}</span></li>`)}
        <li class="row"><a class="tap" href=${to("meter")}>Meter readings</a><span class="soft">${result.meter ? result.meter.headline : "not measured"}</span></li>
        <li class="row"><a class="tap" href=${to("consistency")}>Dials against one another</a><span></span></li>
        <li class="row"><a class="tap" href=${to("camera")}>Who the camera is</a><span></span></li></ul>
      <details><summary>Not checked: ${result.unchecked.length}</summary><ul>${result.unchecked.map((one) => html`<li>${one.text}${one.matters ? " (matters)" : ""}</li>`)}</ul></details>
      <details><summary>Costs and notes</summary>
        ${field({ label: "Value when sound", id: "value", value: costs.value, decimal: true, type: (typed) => desk.change(["costs", "value"], typed) })}
        ${field({ label: "Cost of mending", id: "mending", value: costs.mending, decimal: true, type: (typed) => desk.change(["costs", "mending"], typed) })}
        ${result.for_parts_offered ? html`<button @click=${() => desk.change(["costs", "for_parts"], !costs.for_parts)}>${costs.for_parts ? "Not for parts after all" : "Call it for parts"}</button>` : ""}
        <label class="name" for="notes">Notes</label><textarea id="notes" .value=${notes} @input=${(/** @type {any} */ event) => desk.change(["notes"], event.target.value)}></textarea></details>
      <div class="buttons"><a class="button" href=${to("file")}>Hand on</a><button @click=${() => desk.undo()}>Undo the last change</button>
        <button @click=${() => bin.remove(key).then(() => { location.href = "bin.html"; })}>Move to the bin</button></div>`,
    foot: html`<a class="button" href=${to("sheet")}>Sheet</a><a class="button main" href=${to("round", { area: next.key })}>Go on: ${next.name}</a>`,
  });
});
