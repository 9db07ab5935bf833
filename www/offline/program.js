/**
 * The program as this phone keeps it: registered after the first page has shown, updated when somebody says so and nothing runs,
 * forgotten on request. The cameras are no part of it and are never touched.
 * Not here: which files it has and how they are answered (`sw.js`); what a page shows of it.
 */

import { programAddress } from "../bench/trusted.js";
import { whenIdle } from "./busy.js";

/** Tells `changed` when a new version is there, or the program is kept. */
export const program = new EventTarget();

const container = /** @type {ServiceWorkerContainer | undefined} */ (navigator.serviceWorker);
/** Who answers this page; a page that came straight from the host has nobody yet. */
let answers = container?.controller ?? null;
/** @type {Promise<ServiceWorkerRegistration | undefined> | undefined} */
let registered;

const tell = () => program.dispatchEvent(new Event("changed"));

/** @param {ServiceWorkerRegistration} registration Hears what becomes of each build that is fetched. */
function watch(registration) {
  const follow = () => {
    const next = registration.installing;
    next?.addEventListener("statechange", () => ["installed", "activated"].includes(next.state) && tell());
  };
  follow();
  registration.addEventListener("updatefound", follow);
}

/**
 * Fetching and keeping everything takes half a second of the processor, which the page needs until it has shown and drawn itself.
 *
 * @returns {Promise<void>}
 */
const idle = () => new Promise((resolve) => ("requestIdleCallback" in globalThis ? requestIdleCallback(() => resolve(), { timeout: 5000 }) : setTimeout(resolve, 1000)));

async function register() {
  await idle();
  // Without leave to keep anything, the page works from its host.
  const registration = await container?.register(programAddress(), { updateViaCache: "none" }).catch(() => undefined);
  if (registration) {
    watch(registration);
    tell();
  }
  return registration;
}

/** Keeps the program on this phone; each page asks for it once, when it has shown. */
export function keep() {
  if (!registered && container) {
    registered = register();
    container.addEventListener("controllerchange", () => {
      // Somebody let a new version take over, in this tab or in another; nothing runs, or it could not have.
      if (answers) {
        location.reload();
      }
      answers = container.controller;
    });
  }
}

/**
 * @typedef {object} State
 * @property {boolean} possible Whether this browser keeps a program at all.
 * @property {boolean} kept Whether every page opens without a connection.
 * @property {boolean} newer Whether a new version waits.
 */

/** @returns {Promise<State>} */
export async function state() {
  const registration = await container?.getRegistration().catch(() => undefined);
  return { possible: container !== undefined, kept: Boolean(registration?.active), newer: Boolean(registration?.waiting && registration.active) };
}

/** @returns {Promise<string>} Lets the new version take over, and loads the page anew with it; else a sentence why not. */
export async function update() {
  const waiting = (await container?.getRegistration())?.waiting;
  if (!waiting) {
    location.reload();
    return "";
  }
  const done = await whenIdle(() => new Promise((resolve) => {
    container?.addEventListener("controllerchange", resolve, { once: true });
    waiting.postMessage("take over");
  }));
  if (!done) {
    return "Something is being measured, here or in another tab. Update when it is over.";
  }
  location.reload();
  return "";
}

/** @returns {Promise<string>} Forgets the program and fetches it anew; else a sentence why not. */
export async function reset() {
  const there = await fetch(programAddress(), { cache: "no-store" }).then((answer) => answer.ok, () => false);
  if (!there) {
    return "There is no connection to where the program came from, so it could not be fetched anew. Nothing was changed.";
  }
  const registration = await container?.getRegistration();
  const scope = registration?.scope ?? new URL(".", programAddress()).href;
  const done = await whenIdle(async () => {
    await registration?.unregister();
    const ours = (await caches.keys()).filter((name) => name.startsWith(`lampblack ${new URL(scope).pathname} `));
    await Promise.all(ours.map((name) => caches.delete(name)));
  });
  return done ? "" : "Something is being measured, here or in another tab. Try again when it is over.";
}
