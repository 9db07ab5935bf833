/**
 * Whether this browser can count several numbers at a time (WebAssembly's 128-bit SIMD), under a name of its own in the global scope: a
 * worker's module and a service worker both read it, and the latter cannot take exports.
 * Not here: which modules come in two builds (`worker.js`, `sw.js`).
 */

/** The smallest module that uses it: one function that fills sixteen bytes and counts their bits. */
const SMALLEST = [0, 97, 115, 109, 1, 0, 0, 0, 1, 5, 1, 96, 0, 1, 123, 3, 2, 1, 0, 10, 10, 1, 8, 0, 65, 0, 253, 15, 253, 98, 11];

/** @type {{ lampblackWide?: boolean }} */ (globalThis).lampblackWide = WebAssembly.validate(new Uint8Array(SMALLEST));
