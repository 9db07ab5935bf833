/**
 * The program on this phone, so that every page opens without a connection: all files of one build in one cache that is named by
 * what it holds, and answers from that cache alone. Another build waits until somebody says that it may take over.
 * Not here: registering this and offering an update (`offline/program.js`); the cameras, which this never touches.
 */

/**
 * What is used here of a service worker's world, which the page's types do not have.
 *
 * @typedef {object} World
 * @property {{ scope: string }} registration
 * @property {{ claim(): Promise<void> }} clients
 * @property {() => Promise<void>} skipWaiting
 * @property {(address: string) => void} importScripts
 * @property {(name: string, hear: (event: any) => void) => void} addEventListener
 */
const world = /** @type {World} */ (/** @type {unknown} */ (globalThis));

/** Every file of this build by its path, with its SHA-256, and one hash over all: written here by the build. @type {{ hash: string, files: Record<string, string> }} */
const SITE = { hash: "", files: {} };

// Sets what follows; a service worker takes no exports in every browser.
world.importScripts("bench/simd.js");
const WIDE = /** @type {{ lampblackWide?: boolean }} */ (globalThis).lampblackWide === true;
/** @param {string} path The other build of a module or its glue. */
const plain = (path) => path.replace(/(_bg\.wasm|\.js)$/, "-plain$1");
/** @param {string} path Whether a file is of the build that this browser does not take. */
const useless = (path) => (path.includes("-plain") ? WIDE : !WIDE && Object.hasOwn(SITE.files, plain(path)));

/** Where the site is; caches belong to a whole origin, which other sites may share. */
const TOP = world.registration.scope;
const OURS = `lampblack ${new URL(TOP).pathname} `;
const OWN = OURS + SITE.hash;
/** Under which a kept file says what it holds. */
const HASH = "x-sha256";
/** So many files are fetched at a time. */
const ABREAST = 6;

const older = async () => (await caches.keys()).filter((name) => name.startsWith(OURS) && name !== OWN);

/** @param {string} path @param {Response} answer @param {string} hash As it is kept: without what the host said besides, and never a forwarded one, which no page may be opened with. */
const keepable = (path, answer, hash) => new Response(answer.body, {
  headers: { "content-type": path.endsWith(".wasm") ? "application/wasm" : (answer.headers.get("content-type") ?? ""), [HASH]: hash },
});

/** @param {string} path @param {string} hash @param {Cache[]} before @returns {Promise<Response>} The file, from an older build where that had the same. */
async function fetched(path, hash, before) {
  const address = new URL(path, TOP).href;
  for (const cache of before) {
    const kept = await cache.match(address);
    if (kept?.headers.get(HASH) === hash) {
      return kept;
    }
  }
  // What the host has put in its place meanwhile is of another build: with it this one would be none.
  const answer = await fetch(address, { cache: "no-cache", integrity: `sha256-${hash}` });
  if (!answer.ok) {
    throw new Error(`${path}: ${answer.status}`);
  }
  return keepable(path, answer, hash);
}

/** Fetches what is not there yet. What was fetched before the connection broke stays for the next try. */
async function fill() {
  const [own, before] = [await caches.open(OWN), await Promise.all((await older()).map((name) => caches.open(name)))];
  const left = Object.entries(SITE.files).filter(([path]) => !useless(path));
  const one = async () => {
    for (let next = left.pop(); next; next = left.pop()) {
      const [path, hash] = next;
      const address = new URL(path, TOP).href;
      if (!(await own.match(address))) {
        await own.put(address, await fetched(path, hash, before));
      }
    }
  };
  await Promise.all(Array.from({ length: ABREAST }, one));
}

/** The builds before this one are no longer asked by anybody. */
async function takeOver() {
  await Promise.all((await older()).map((name) => caches.delete(name)));
  await world.clients.claim();
}

/** @param {string} address @returns {string | undefined} The file that an address means, as a host would read it; none where it is no file of ours. */
function fileAt(address) {
  const url = new URL(address);
  if (!`${url.origin}${url.pathname}`.startsWith(TOP)) {
    return undefined;
  }
  const path = `${url.origin}${url.pathname}`.slice(TOP.length);
  return [path, `${path}index.html`, `${path}.html`].find((name) => Object.hasOwn(SITE.files, name));
}

/** @param {string} file @param {Request} request */
async function answer(file, request) {
  const kept = await (await caches.open(OWN)).match(new URL(file, TOP).href);
  return kept ?? fetch(request);
}

world.addEventListener("install", (event) => event.waitUntil(fill()));
world.addEventListener("activate", (event) => event.waitUntil(takeOver()));
world.addEventListener("message", (event) => event.data === "take over" && event.waitUntil(world.skipWaiting()));
world.addEventListener("fetch", (event) => {
  const { request } = event;
  const file = request.method === "GET" ? fileAt(request.url) : undefined;
  if (file) {
    event.respondWith(answer(file, request));
  }
});
