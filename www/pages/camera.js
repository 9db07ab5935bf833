/**
 * Who the camera is: names, marks on its dials, meter, battery; kept as it is entered.
 * Not here: what is found on it (`round.js`).
 *
 * @import { Lists } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import { html } from "../vendor/lit-html/lit-html.js";
import { choice } from "../view/choice.js";
import { field } from "../view/field.js";
import { later } from "../view/later.js";
import { to } from "../view/links.js";
import { marks } from "../view/marks.js";
import { happened, refusal } from "../view/notice.js";
import { speeds } from "../view/scales.js";
import { show } from "../view/shell.js";
import { stepper } from "../view/stepper.js";
import { withCamera } from "./hand.js";

/** @type {Lists} */
let lists;

/**
 * @param {Hand} hand
 * @param {string} label
 * @param {["camera" | "lens" | "battery", string]} path
 * @param {{ decimal?: boolean, help?: string }} [more]
 */
function text(hand, label, path, more = {}) {
  const [part, name] = path;
  const kept = String(/** @type {Record<string, unknown>} */ (/** @type {unknown} */ (hand.inspection[part]))[name] ?? "");
  return field({ label, id: path.join("-"), value: hand.textAt(path, kept), wrong: hand.wrongAt(path), type: (typed) => hand.change(path, typed), ...more });
}

/** @param {Hand} hand */
function times(hand) {
  const { camera } = hand.inspection;
  const series = lists.time_series.find((one) => one.key === camera.time_series);
  const chosen = (/** @type {string} */ key) => lists.time_series.find((one) => one.key === key)?.marks ?? [];
  return html`
    <h2>Marks on the dials</h2>
    ${choice({ legend: "Marked times", name: "series", layout: "wide", value: camera.time_series, options: lists.time_series.map(({ key, words }) => ({ key, words })),
      pick: (key) => hand.apply((draft) => { draft.camera.time_series = key; draft.camera.times = [...chosen(key)]; }, "marked times") })}
    ${series || camera.times.length > 0
      ? marks({ legend: "Times on this dial", id: "another-time", all: series?.more ?? [], on: camera.times, words: (mark) => mark, order: (a, b) => b - a,
          set: (on) => hand.change(["camera", "times"], on), wrong: hand.wrongAt(["camera", "times"]) })
      : ""}`;
}

/** @param {Hand} hand */
function numbersAndSpeeds(hand) {
  const { camera, lens } = hand.inspection;
  const numbers = lists.f_number_series.find((one) => one.key === lens.f_numbers[0]);
  const from = (/** @type {string} */ key) => lists.f_number_series.find((one) => one.key === key)?.marks ?? [];
  return html`
    ${choice({ legend: "F-numbers", name: "widest", layout: "three", value: numbers?.key ?? "", options: lists.f_number_series,
      pick: (key) => hand.change(["lens", "f_numbers"], [...from(key)]) })}
    ${lens.f_numbers.length > 0
      ? marks({ legend: "F-numbers on this ring", id: "another-f-number", all: numbers?.more ?? lists.f_number_series[0]?.more ?? [], on: lens.f_numbers, words: (mark) => `f/${mark}`, order: (a, b) => a - b,
          set: (on) => hand.change(["lens", "f_numbers"], on), wrong: hand.wrongAt(["lens", "f_numbers"]) })
      : ""}
    <label class="tick"><input type="checkbox" .checked=${camera.automatic_aperture} @change=${() => hand.change(["camera", "automatic_aperture"], !camera.automatic_aperture)} />
      <span>The camera sets the f-number itself</span></label>
    ${["film_speed_lowest", "film_speed_highest"].map((name, i) => {
      const path = ["camera", name];
      const value = i === 0 ? camera.film_speed_lowest : camera.film_speed_highest;
      return html`${stepper({ label: i === 0 ? "Lowest film speed" : "Highest film speed", id: name, value, places: [{ mark: "", label: "not entered" }, ...speeds(lists.film_speeds)],
        set: (mark) => hand.change(path, mark) })}${refusal(hand.wrongAt(path))}`;
    })}`;
}

/** @param {Hand} hand */
function meter(hand) {
  const { camera } = hand.inspection;
  return html`
    <h2>Meter</h2>
    ${choice({ legend: "What the meter shows", name: "shows", layout: "wide", value: camera.meter_shows, options: lists.meter_shows, pick: (key) => hand.change(["camera", "meter_shows"], key) })}
    ${["", "none", "ev"].includes(camera.meter_shows)
      ? ""
      : choice({ legend: "How finely it can be read between marks", name: "between", layout: "three", value: camera.meter_between,
          options: lists.resolutions.filter((one) => one.key !== "sixth").map(({ key, words }) => ({ key, words })), pick: (key) => hand.change(["camera", "meter_between"], key) })}`;
}

/** @param {Hand} hand */
function draw(hand) {
  show({
    title: "Camera",
    about: hand.view.title,
    up: [to("inspection"), hand.view.title],
    main: html`${refusal(hand.wrong)}${happened(hand.news)}
      <p class="soft">Everything is kept as you enter it. What you leave out can come later.</p>
      <h2>Who it is</h2>
      <div class="pair">${text(hand, "Maker", ["camera", "maker"])}${text(hand, "Model", ["camera", "model"])}</div>
      <div class="pair">${text(hand, "Serial number", ["camera", "serial"])}${text(hand, "Lens", ["lens", "name"])}</div>
      <div class="pair">${text(hand, "Serial number of the lens", ["lens", "serial"])}</div>
      <details><summary>Kind: ${hand.view.kind_words}</summary>${choice({ legend: "Kind", quiet: true, name: "kind", layout: "wide", value: hand.inspection.camera.kind, options: lists.kinds.map(({ key, words }) => ({ key, words })), pick: (key) => hand.change(["camera", "kind"], key) })}</details>
      ${later(() => times(hand))}${later(() => numbersAndSpeeds(hand))}${later(() => meter(hand))}
      ${later(() => html`<h2>Battery</h2>
      <div class="pair">${text(hand, "Wanted", ["battery", "wanted"], { help: "as the camera or its manual says" })}${text(hand, "Fitted", ["battery", "fitted"])}</div>
      <div class="pair">${text(hand, "Voltage under load, in volts", ["battery", "voltage"], { decimal: true })}</div>`)}`,
    foot: html`<button type="button" @click=${() => hand.undo()}>Undo</button><a class="button main" href=${to("inspection")}>To the round</a>`,
  });
}

withCamera(draw, async () => {
  lists = await (await bench()).lists();
});
