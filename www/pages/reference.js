/** What the meter is held against, and how well it is known. Not here: the levels. */
import { html } from "../vendor/lit-html/lit-html.js";
import { bench } from "../bench/client.js";
import { alertBox, show, to } from "../view/frame.js";
import { choose } from "../view/bits.js";
import { dial } from "../view/dial.js";
import { atDesk } from "./desk.js";

const lists = await (await bench()).lists();
/** Doubts to step through, in stops. */
const DOUBTS = ["0.02", "0.03", "0.05", "0.1", "0.15", "0.2", "0.25", "0.3", "0.4", "0.5", "0.7", "1"];

atDesk((desk, wrong) => {
  const runs = desk.inspection.meter.runs;
  const at = runs.length - 1;
  const run = runs[at];
  const kind = lists.references.find((one) => one.key === run?.reference.kind);
  const pick = (/** @type {string} */ key) => {
    const chosen = lists.references.find((one) => one.key === key);
    if (!chosen) {
      return;
    }
    desk.apply((draft) => {
      const reference = { kind: key, each_doubt_stops: chosen.each_doubt_stops, shared_doubt_stops: chosen.shared_doubt_stops, surface: key === "lux" ? "card_18" : "", note: "" };
      const last = draft.meter.runs.at(-1);
      if (last && last.levels.length === 0) {
        last.reference = reference;
      } else {
        draft.meter.runs.push({ started: new Date().toISOString(), reference, tolerance_stops: last?.tolerance_stops ?? 0.5, film_speed: last?.film_speed ?? "100", levels: [] });
      }
    }, "reference");
  };
  /** @param {string} label @param {"each_doubt_stops" | "shared_doubt_stops"} name */
  const doubt = (label, name) => {
    const value = String(run?.reference[name]);
    const places = (DOUBTS.includes(value) ? DOUBTS : [value, ...DOUBTS]).map((mark) => ({ mark, label: `${mark} stop` }));
    return dial({ label, id: name, places, value, set: (mark) => desk.change(["meter", "runs", at, "reference", name], Number(mark)) });
  };
  show({
    title: "Reference",
    back: [to("meter"), "Meter"],
    main: html`${alertBox(wrong)}
      ${run && run.levels.length > 0 ? html`<p class="caution">This run has levels. Choosing another reference begins a new run; the old one stays in the file.</p>` : ""}
      ${choose({ legend: "Held against", name: "kind", wide: true, value: kind?.key ?? "", options: lists.references, pick })}
      ${run && kind ? html`${kind.caution ? html`<p class="caution">${kind.caution}</p>` : ""}
        <p class="small">Doubts as standard uncertainties; why: ${kind.why}.</p>
        ${doubt("New at every level", "each_doubt_stops")}${doubt("Shared by all levels", "shared_doubt_stops")}
        ${kind.constants ? html`<p>${kind.constants}</p>` : ""}
        ${kind.key === "lux" ? choose({ legend: "The camera's meter looks at", name: "surface", wide: true, value: run.reference.surface, options: lists.surfaces, pick: (one) => desk.change(["meter", "runs", at, "reference", "surface"], one) }) : ""}` : ""}`,
    foot: run ? html`<a class="button main" href=${to("level")}>Enter levels</a>` : "",
  });
});
