/** What pages about one camera share: its desk, drawn again after every change, with what was refused. Not here: the pages. */
import { open } from "../store/edit.js";
import { theme } from "../store/settings.js";
import { key, run, wear } from "../view/frame.js";

/**
 * @param {(desk: import("../store/edit.js").Desk, wrong: unknown) => unknown} draw
 * @param {(desk: import("../store/edit.js").Desk) => Promise<void>} [before]
 */
export function atDesk(draw, before = async () => {}) {
  wear(theme());
  return run(async () => {
    const desk = await open(key);
    await before(desk);
    /** @type {unknown} */
    let wrong = "";
    const again = () => draw(desk, wrong);
    desk.on("changed", () => { wrong = ""; again(); });
    desk.on("elsewhere", again);
    desk.on("failed", (failure) => { wrong = failure.sentence; again(); });
    again();
  });
}
