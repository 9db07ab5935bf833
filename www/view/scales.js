/**
 * Places to step through that are no marks of a camera: doubts in stops, and exposure values by their last digit.
 * Not here: marks of dials, which the bench knows; what a value means.
 *
 * @import { Place } from "../bench/shapes.js"
 */

const FINE = ["0", "0.02", "0.03"];
const TWENTIETHS = Array.from({ length: 20 }, (_, i) => String((i + 1) / 20));
const COARSE = ["1.25", "1.5", "2"];

/** Doubts of a reference [stops]. @type {Place[]} */
export const DOUBTS = [...FINE, ...TWENTIETHS, ...COARSE].map((mark) => ({ mark, label: `${mark} stop` }));

/** Exposure values that occur on a bench. */
const [LEAST, MOST] = [-6, 20];

/** @param {number} i */
const place = (i) => {
  const mark = (i / 10).toFixed(1);
  return { mark, label: `EV ${mark.replace("-", "−")}` };
};

/** @type {Place[]} */
export const EV_TENTHS = Array.from({ length: (MOST - LEAST) * 10 + 1 }, (_, i) => place(LEAST * 10 + i));

/** @type {Place[]} */
export const EV_WHOLE = Array.from({ length: MOST - LEAST + 1 }, (_, i) => {
  const mark = String(LEAST + i);
  return { mark, label: `EV ${mark.replace("-", "−")}` };
});

/** @param {readonly string[]} marks @returns {Place[]} Film speeds as places. */
export const speeds = (marks) => marks.map((mark) => ({ mark, label: `ISO ${mark}` }));
