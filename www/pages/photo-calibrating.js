/**
 * Calibrating this phone once, with photos of a target that a trusted meter has read: photo by photo, until the person says that is
 * all; then it counts for that lens of that phone.
 * Not here: what the offset comes to (the bench); calibrations that are kept (`phones.js`).
 *
 * @import { CalibrationEntry, PhotoLight } from "../bench/shapes.js"
 */

import { bench } from "../bench/client.js";
import { keep } from "../store/phones.js";
import { html, nothing } from "../vendor/lit-html/lit-html.js";
import { field } from "../view/field.js";
import { happened, refusal } from "../view/notice.js";

/** @type {{ phone: string, entries: CalibrationEntry[] }} Photos of one phone and lens, not yet worked out. */
let pending = { phone: "", entries: [] };
let typed = { ev: "", doubt: "0.1", against: "" };
/** @type {unknown} */
let wrong = "";
let news = "";

/**
 * @param {object} what
 * @param {string} what.phone
 * @param {PhotoLight} what.light Of the patch as it is.
 * @param {() => void} what.again Draws the page once more.
 * @param {() => void} what.made A calibration was made.
 */
export function calibratingPart({ phone, light, again, made }) {
  if (!phone) {
    return html`<p class="small">The photo does not say which phone and lens took it, so it cannot calibrate one.</p>`;
  }
  if (pending.phone !== phone) {
    pending = { phone, entries: [] };
  }
  const put = (/** @type {Partial<typeof typed>} */ values) => {
    typed = { ...typed, ...values };
    again();
  };
  const add = (/** @type {string} */ ev) => {
    const { settings_ev100, tone_stops, brightness_difference_stops } = light;
    pending.entries.push({ settings_ev100, tone_stops, brightness_difference_stops, typed: ev });
    [typed.ev, news, wrong] = ["", `${pending.entries.length === 1 ? "One photo" : `${pending.entries.length} photos`} so far. Choose another of the same phone, or work it out.`, ""];
    again();
  };
  const workOut = async () => {
    [news, wrong] = ["", ""];
    try {
      const done = await (await bench()).calibratePhone(pending.entries, typed.doubt, phone, typed.against.trim());
      await keep(done);
      pending = { phone, entries: [] };
      news = `Calibrated: ${done.words}. ${done.notices.join(" ")}`;
      made();
    } catch (error) {
      // What cannot be is not carried on: the photos are chosen again.
      [wrong, pending] = [error, { phone, entries: [] }];
    }
    again();
  };
  const has = pending.entries.some((one) => one.typed !== "");
  return html`<details ?open=${pending.entries.length > 0 || news !== ""}><summary>Calibrate this phone with it</summary>
    <p class="soft">Read the same patch with a meter that you trust. One photo halves the doubt; three in different light tell more. For the slope of the tone curve: the same light, with the phone's exposure slider moved.</p>
    ${refusal(wrong)}${happened(news)}
    ${field({ label: "EV at ISO 100 by the trusted meter", id: "trusted-ev", decimal: true, value: typed.ev, type: (ev) => put({ ev }) })}
    ${field({ label: "Its standard uncertainty in stops", id: "trusted-doubt", decimal: true, value: typed.doubt, type: (doubt) => put({ doubt }), help: "A meter that was checked against a lamp: 0.1. One that was not: 0.2." })}
    ${field({ label: "Which meter, and when it was checked", id: "trusted-name", value: typed.against, type: (against) => put({ against }) })}
    <div class="actions">
      <button type="button" ?disabled=${typed.ev.trim() === ""} @click=${() => add(typed.ev)}>Add this photo</button>
      ${has ? html`<button type="button" @click=${() => add("")}>Add it as the same light</button><button type="button" class="main" @click=${workOut}>Work it out from ${pending.entries.length}</button>` : nothing}
    </div>
  </details>`;
}
