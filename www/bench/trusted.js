/**
 * The one Trusted Types policy of the page, named `app`: it lets the bench's own worker be started and nothing else.
 * Not here: the policy of the templates, which lit-html makes for itself under its own name.
 */

/**
 * @typedef {object} Policy
 * @property {(url: string) => unknown} createScriptURL
 * @typedef {object} Factory
 * @property {(name: string, rules: { createScriptURL: (url: string) => string }) => Policy} createPolicy
 */

const WORKER = new URL("./worker.js", import.meta.url).href;

/** @param {string} url */
function onlyTheWorker(url) {
  if (url !== WORKER) {
    throw new TypeError("the page starts no script but its own worker");
  }
  return url;
}

const factory = /** @type {{ trustedTypes?: Factory }} */ (/** @type {unknown} */ (globalThis)).trustedTypes;
const policy = factory?.createPolicy("app", { createScriptURL: onlyTheWorker });

/**
 * The address of the bench's worker, in the form that the browser asks for.
 *
 * @returns {string}
 */
export function workerAddress() {
  // A trusted address is an object of the browser's; `Worker` takes it as it takes a text.
  return policy ? /** @type {string} */ (policy.createScriptURL(WORKER)) : onlyTheWorker(WORKER);
}
