/**
 * A camera inspected again from its last inspection, with one press.
 * Not here: what is carried over, which the bench says.
 *
 * @import { Hand } from "./hand.js"
 */

import { bench } from "../bench/client.js";
import * as inspections from "../store/inspections.js";
import { to } from "../view/links.js";

/** @param {Hand} hand */
export async function inspectAgain(hand) {
  try {
    const made = await (await bench()).inspectAgain(hand.inspection);
    const { key } = await inspections.add(made.inspection);
    location.href = to("inspection", {}, key);
  } catch (error) {
    hand.wrong = error instanceof Error ? error.message : String(error);
    hand.draw();
  }
}
