/**
 * A measured take goes into the record, and the page goes on to it.
 * Not here: measuring (the bench); what the take's page shows (`take.js`).
 *
 * @import { MeasuredTake } from "../bench/shapes.js"
 * @import { Hand } from "./hand.js"
 * @import { Caught } from "./plan.js"
 */

import { CaptureError } from "../capture/error.js";
import { to } from "../view/links.js";

/** A shot of the take is the one that was caught where it begins no further off than this [s]. */
const SAME = 0.3;

/**
 * What the page knows of a take and the bench does not: shots that the person let not count, and what happened meanwhile.
 *
 * @param {MeasuredTake} measured Changed in place.
 * @param {readonly Caught[]} caught
 * @param {readonly { code: string, text: string }[]} notices
 */
export function amend({ take }, caught, notices) {
  for (const one of caught.filter(({ counts }) => !counts)) {
    const shot = take.shots.find(({ start_s }) => Math.abs(start_s - one.start_s) < SAME);
    if (shot) {
      shot.dropped = true;
    }
  }
  take.notices.push(...notices);
}

/**
 * Rejects with a sentence where nothing is in the take: there is nothing to keep.
 *
 * @param {Hand} hand
 * @param {MeasuredTake} measured
 * @returns {Promise<boolean>} Whether it was kept.
 */
export async function keepTake(hand, measured) {
  if (measured.take.shots.length === 0) {
    throw new CaptureError([measured.summary, ...measured.take.notices.map((one) => one.text)].join(" "));
  }
  const kept = await hand.apply((draft) => draft.shutter.takes.push(measured.take), "take");
  if (kept) {
    location.href = to("take", { take: String(hand.inspection.shutter.takes.length), new: "" });
  }
  return kept;
}
