/**
 * The one Trusted Types policy of the page, named `app`: it lets the bench's own worker and the program's service worker be started
 * and nothing else.
 * Not here: the policy of the templates, which lit-html makes for itself under its own name.
 */

/**
 * @typedef {object} Policy
 * @property {(url: string) => unknown} createScriptURL
 * @typedef {object} Factory
 * @property {(name: string, rules: { createScriptURL: (url: string) => string }) => Policy} createPolicy
 */

const WORKER = new URL("./worker.js", import.meta.url).href;
const PROGRAM = new URL("../sw.js", import.meta.url).href;

/** @param {string} url */
function onlyOurs(url) {
  if (url !== WORKER && url !== PROGRAM) {
    throw new TypeError("the page starts no script but its own workers");
  }
  return url;
}

const factory = /** @type {{ trustedTypes?: Factory }} */ (/** @type {unknown} */ (globalThis)).trustedTypes;
const policy = factory?.createPolicy("app", { createScriptURL: onlyOurs });

/** @param {string} url @returns {string} In the form that the browser asks for: a trusted address is an object of the browser's, taken where a text is. */
const trusted = (url) => (policy ? /** @type {string} */ (policy.createScriptURL(url)) : onlyOurs(url));

/** @returns {string} The address of the bench's worker. */
export const workerAddress = () => trusted(WORKER);

/** @returns {string} The address of the service worker that keeps the program. */
export const programAddress = () => trusted(PROGRAM);
