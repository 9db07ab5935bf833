/**
 * Where the phone is, to a tenth of a degree, where the person allows it.
 * Not here: what follows from it (the bench). It is kept among the settings only, and goes into no file.
 */

import { CaptureError } from "./error.js";

/** How long it is waited for [ms]; an older position serves as well, since a tenth of a degree is a long way. */
const [PATIENCE, AGE] = [15_000, 3_600_000];

/** @returns {Promise<{ latitude: string, longitude: string }>} In degrees. */
export async function whereWeAre() {
  if (!navigator.geolocation) {
    throw new CaptureError("This browser does not say where it is. Choose a city, or type latitude and longitude.");
  }
  const { coords } = await new Promise((/** @type {(found: GeolocationPosition) => void} */ resolve, reject) => {
    navigator.geolocation.getCurrentPosition(resolve, reject, { timeout: PATIENCE, maximumAge: AGE });
  }).catch((error) => {
    throw new CaptureError(error?.code === 1
      ? "The position was refused. Choose a city, or type latitude and longitude."
      : "The position could not be found. Choose a city, or type latitude and longitude.");
  });
  return { latitude: coords.latitude.toFixed(1), longitude: coords.longitude.toFixed(1) };
}
