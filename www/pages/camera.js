/** Who the camera is: names, marks, meter, battery, kept as entered. Not here: what is found on it. */
import { html } from "../vendor/lit-html/lit-html.js";
import { bench } from "../bench/client.js";
import { alertBox, show, to } from "../view/frame.js";
import { choose, field } from "../view/bits.js";
import { dial } from "../view/dial.js";
import { atDesk } from "./desk.js";

const lists = await (await bench()).lists();

/** @param {any} desk @param {string} legend @param {string[]} marks @param {string[]} all @param {string[]} path */
const toggles = (desk, legend, marks, all, path) => html`<fieldset><legend>${legend}</legend><div class="choices">
  ${all.map((mark) => html`<label class="choice"><input type="checkbox" .checked=${marks.includes(mark)}
    @change=${() => desk.change(path, all.filter((one) => (one === mark) !== marks.includes(one)))} /><span>${mark}</span></label>`)}
  </div></fieldset>`;

atDesk((desk, wrong) => {
  const { camera, lens, battery } = desk.inspection;
  /** @param {string} label @param {string[]} path @param {string} value @param {boolean} [decimal] */
  const text = (label, path, value, decimal = false) =>
    field({ label, id: path.join("-"), value, decimal, type: (typed) => desk.change(path, typed) });
  const series = lists.time_series.find((one) => one.key === camera.time_series);
  const speeds = [{ mark: "", label: "not entered" }, ...lists.film_speeds.map((mark) => ({ mark, label: mark }))];
  const widest = lists.f_number_series.find((one) => one.key === lens.f_numbers[0]);
  show({
    title: "Camera",
    back: [to("inspection"), desk.view.title],
    main: html`${alertBox(wrong)}
      ${text("Maker", ["camera", "maker"], camera.maker)}${text("Model", ["camera", "model"], camera.model)}
      ${text("Serial number", ["camera", "serial"], camera.serial)}
      ${text("Lens", ["lens", "name"], lens.name)}${text("Lens serial number", ["lens", "serial"], lens.serial)}
      ${choose({ legend: "Kind", name: "kind", value: camera.kind, wide: true, options: lists.kinds, pick: (one) => desk.change(["camera", "kind"], one) })}
      ${choose({ legend: "What the meter shows", name: "shows", value: camera.meter_shows, wide: true, options: lists.meter_shows, pick: (one) => desk.change(["camera", "meter_shows"], one) })}
      ${choose({ legend: "Read between marks", name: "between", value: camera.meter_between, options: lists.resolutions, pick: (one) => desk.change(["camera", "meter_between"], one) })}
      ${choose({ legend: "Marked times", name: "series", value: camera.time_series, wide: true, options: lists.time_series.map((one) => ({ key: one.key, words: one.words })), pick: (one) =>
        desk.apply((draft) => { draft.camera.time_series = one; draft.camera.times = [...(lists.time_series.find((s) => s.key === one)?.marks ?? [])]; }, "times") })}
      ${series ? toggles(desk, "Times on the dial", camera.times, series.more, ["camera", "times"]) : ""}
      ${choose({ legend: "Widest opening", name: "widest", value: widest?.key ?? "", options: lists.f_number_series, pick: (one) =>
        desk.change(["lens", "f_numbers"], lists.f_number_series.find((s) => s.key === one)?.marks ?? []) })}
      ${widest ? toggles(desk, "F-numbers on the ring", lens.f_numbers, widest.more, ["lens", "f_numbers"]) : ""}
      ${dial({ label: "Lowest film speed", id: "slow", places: speeds, value: camera.film_speed_lowest, set: (mark) => desk.change(["camera", "film_speed_lowest"], mark) })}
      ${dial({ label: "Highest film speed", id: "fast", places: speeds, value: camera.film_speed_highest, set: (mark) => desk.change(["camera", "film_speed_highest"], mark) })}
      ${text("Battery wanted", ["battery", "wanted"], battery.wanted)}${text("Battery fitted", ["battery", "fitted"], battery.fitted)}
      ${text("Voltage under load, volts", ["battery", "voltage"], battery.voltage, true)}`,
    foot: html`<a class="button main" href=${to("round", { area: "power" })}>Begin the round</a>`,
  });
});
