/**
 * The phone's camera with its exposure locked, where the browser gives that, and the pixels of the middle of what it sees.
 * Not here: what they come to (the bench). Nowhere promised: most browsers lock nothing.
 *
 * @import { Bench } from "../bench/client.js"
 * @import { PatchSums } from "../bench/shapes.js"
 */

import { CaptureError } from "./error.js";

/** Side of the patch as a share of the picture's shorter side. */
const SHARE = 0.2;

/** @returns {boolean} Whether it is worth asking at all. */
export const mayLock = () => Boolean(/** @type {Record<string, boolean> | undefined} */ (navigator.mediaDevices?.getSupportedConstraints?.())?.exposureMode);

/** A camera that keeps its exposure. */
export class LockedCamera {
  /** @type {MediaStream | null} */
  #stream = null;

  /** @param {HTMLVideoElement} video Where it is shown. */
  constructor(video) {
    this.video = video;
  }

  /** Opens the camera on the back and locks it; rejects with a sentence where that cannot be. */
  async open() {
    try {
      this.#stream = await navigator.mediaDevices.getUserMedia({ video: { facingMode: "environment" } });
    } catch {
      throw new CaptureError("The camera was refused. Allow it for this page in the browser's settings, or take a photo instead.");
    }
    const [track] = this.#stream.getVideoTracks();
    const can = /** @type {Record<string, any>} */ (track?.getCapabilities?.() ?? {});
    if (!can.exposureMode?.includes("manual")) {
      this.close();
      throw new CaptureError("This browser does not lock the camera's exposure, so a live reading would say nothing. Take a photo instead.");
    }
    this.video.srcObject = this.#stream;
    await this.video.play();
    await this.lock();
  }

  /** Takes the exposure as it is now, and keeps it. */
  async lock() {
    const [track] = this.#stream?.getVideoTracks() ?? [];
    const set = (/** @type {Record<string, unknown>} */ values) => track?.applyConstraints(/** @type {MediaTrackConstraints} */ ({ advanced: [values] }));
    await set({ exposureMode: "continuous", whiteBalanceMode: "continuous" });
    // The camera needs a moment to find what it then keeps.
    await new Promise((resolve) => setTimeout(resolve, 800));
    await set({ exposureMode: "manual", whiteBalanceMode: "manual" });
  }

  /** @param {Bench} bench @returns {Promise<PatchSums>} The light of the middle of the picture as it is now. */
  async patch(bench) {
    const { videoWidth: width, videoHeight: height } = this.video;
    const side = Math.max(8, Math.round(Math.min(width, height) * SHARE));
    const canvas = new OffscreenCanvas(side, side);
    const pen = canvas.getContext("2d", { willReadFrequently: true });
    if (!pen || width === 0) {
      throw new CaptureError("The camera shows no picture.");
    }
    pen.drawImage(this.video, (width - side) / 2, (height - side) / 2, side, side, 0, 0, side, side);
    const patch = { x: 0, y: 0, width: side, height: side };
    return bench.photoStrip({ patch, light: [], counts: [], clipped: 0, black: 0 }, pen.getImageData(0, 0, side, side).data, side, 0, 0);
  }

  /** Lets go of the camera. */
  close() {
    this.#stream?.getTracks().forEach((track) => track.stop());
    this.#stream = null;
    this.video.srcObject = null;
  }
}
