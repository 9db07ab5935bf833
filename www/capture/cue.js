/**
 * What the page lets itself be heard or felt with between two shots: a word, a short tone, a buzz.
 * Not here: when that may be (`pages/listening.js`), since nothing may sound while a shot can come.
 */

/** A voice that has not ended by then is cut off [ms]. */
const LONGEST_WORDS = 4000;
const TONE_HZ = 880;
/** How long a tone and a buzz last [s]. */
export const TONE_S = 0.08;

/** @returns {boolean} Whether the phone can speak. */
export const canSpeak = () => typeof speechSynthesis === "object" && typeof SpeechSynthesisUtterance === "function";

/** @param {string} words @returns {Promise<void>} When they were said. */
export function speak(words) {
  return new Promise((resolve) => {
    if (!canSpeak() || !words) {
      resolve();
      return;
    }
    const said = new SpeechSynthesisUtterance(words);
    said.lang = "en";
    const cut = setTimeout(() => {
      speechSynthesis.cancel();
      resolve();
    }, LONGEST_WORDS);
    said.onend = said.onerror = () => {
      clearTimeout(cut);
      resolve();
    };
    speechSynthesis.speak(said);
  });
}

/** @param {AudioContext} context A short tone, and a buzz where the phone can. */
export function tone(context) {
  navigator.vibrate?.(TONE_S * 1000);
  const [from, to] = [context.currentTime, context.currentTime + TONE_S];
  const oscillator = new OscillatorNode(context, { frequency: TONE_HZ });
  const gain = new GainNode(context, { gain: 0 });
  gain.gain.linearRampToValueAtTime(0.2, from + 0.01);
  gain.gain.linearRampToValueAtTime(0, to);
  oscillator.connect(gain).connect(context.destination);
  oscillator.start(from);
  oscillator.stop(to);
}
