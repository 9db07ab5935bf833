/**
 * Joins modules of the built page: what many pages lead to becomes a file or two, and each page's module takes in all else that it leads
 * to. What a machine does not read goes; a map beside each file has the modules as they are written, for whoever looks with a browser's
 * tools. Each shared module is also written at its own address, where it hands on what is in the shared file.
 * Told in a file of JSON: the folder `from`, the folder `to`, the `pages`, those `alone` that take nothing from the shared files, and which
 * modules each shared file is made of. Not here: which those are, which the build knows.
 */

import { readFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { rollup } from "rollup";
import { minify } from "terser";

/** @import { OutputOptions, Plugin } from "rollup" */

const [plan = ""] = process.argv.slice(2);
/** @type {{ from: string, to: string, pages: string[], alone: string[], shared: Record<string, string[]> }} */
const { from, to, pages, alone, shared } = JSON.parse(readFileSync(plan, "utf8"));
const together = new Map(Object.entries(shared).flatMap(([name, paths]) => paths.map((path) => [join(from, path), name])));
const files = new Set(Object.keys(shared).map((name) => join(to, name)));

/** @type {Plugin} */
const usual = {
  name: "usual",
  /** A module finds what lies beside it from wherever it went. */
  resolveImportMeta: (property, { chunkId, moduleId }) => {
    const place = relative(dirname(chunkId), dirname(relative(from, moduleId)));
    return property === "url" && place !== "" ? `new URL(${JSON.stringify(`${place}/`)}, import.meta.url).href` : undefined;
  },
  /** As small as it goes, what ships. */
  renderChunk: async (code, { name, fileName }) => {
    if (!files.has(join(to, name)) && !fileName.startsWith("pages/")) {
      return null;
    }
    const { code: less = "", map } = await minify(code, { module: true, sourceMap: { asObject: true } });
    return { code: less, map: /** @type {any} */ (map) };
  },
};

/** @type {Plugin} What is in a shared file is taken from there. */
const fromShared = {
  name: "from shared",
  resolveId: (source, importer) => {
    const path = importer ? join(dirname(importer), source) : source;
    return together.has(path) ? join(to, relative(from, path)) : files.has(path) ? { id: path, external: true } : null;
  },
};

/** @param {string[]} names @param {Plugin[]} plugins @param {OutputOptions} [more] */
async function made(names, plugins, more = {}) {
  const joined = await rollup({
    input: Object.fromEntries(names.map((path) => [path, join(from, path)])),
    external: (id) => files.has(id),
    makeAbsoluteExternalsRelative: false,
    preserveEntrySignatures: "strict",
    // What is written is what runs.
    treeshake: false,
    plugins: [...plugins, usual],
    onwarn: (warning) => { throw new Error(warning.message); },
  });
  await joined.write({
    dir: to,
    format: "es",
    entryFileNames: "[name]",
    chunkFileNames: "[name]",
    hoistTransitiveImports: false,
    minifyInternalExports: false,
    sourcemap: true,
    sourcemapPathTransform: (path) => `sources/${path.slice(path.indexOf("apart/") + "apart/".length)}`,
    // A page's module lies as deep as it is called.
    paths: (id) => (files.has(id) ? relative(dirname(join(to, names[0] ?? "")), id) : id),
    ...more,
  });
}

// With the pages, so that what they take of a shared file is handed out there; each is then made again to be whole.
await made([...Object.values(shared).flat(), ...pages], [], { onlyExplicitManualChunks: true, manualChunks: (id) => together.get(id) });
for (const page of pages) {
  await made([page], alone.includes(page) ? [] : [fromShared]);
}
