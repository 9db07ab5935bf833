/**
 * Joins modules of the built page: what many pages lead to into a file or two, and what one page alone leads to into that page's own. A
 * module keeps its address, and hands on from there what went into another file. What a machine does not read goes; a map beside each file
 * has the modules as they are written, for whoever looks with a browser's tools.
 * Told in a file of JSON: the folder `from`, the folder `to`, the `entries` that keep their address, and the files that some of these
 * become, `shared`. Not here: which those are, which the build knows.
 */

import { readFileSync } from "node:fs";
import { dirname, join, relative } from "node:path";
import { rollup } from "rollup";
import { minify } from "terser";

const [plan = ""] = process.argv.slice(2);
/** @type {{ from: string, to: string, entries: string[], shared: Record<string, string[]> }} */
const { from, to, entries, shared } = JSON.parse(readFileSync(plan, "utf8"));
const together = new Map(Object.entries(shared).flatMap(([name, paths]) => paths.map((path) => [join(from, path), name])));

const joined = await rollup({
  input: Object.fromEntries(entries.map((path) => [path, join(from, path)])),
  preserveEntrySignatures: "strict",
  // What is written is what runs.
  treeshake: false,
  plugins: [{
    name: "beside",
    /** A module finds what lies beside it from wherever it went. */
    resolveImportMeta: (property, { chunkId, moduleId }) => {
      const place = relative(dirname(chunkId), relative(from, moduleId));
      return property === "url" && place !== relative(dirname(chunkId), chunkId) ? `new URL(${JSON.stringify(place)}, import.meta.url).href` : undefined;
    },
    /** As small as it goes. */
    renderChunk: async (code) => {
      const { code: less = "", map } = await minify(code, { module: true, sourceMap: { asObject: true } });
      return { code: less, map: /** @type {any} */ (map) };
    },
    /** What only hands on has nothing to look at. */
    generateBundle: (_, bundle) => {
      for (const file of Object.values(bundle)) {
        if (file.type === "chunk" && Object.keys(file.modules).length === 0 && file.sourcemapFileName) {
          delete bundle[file.sourcemapFileName];
          file.code = file.code.replace(/\/\/# sourceMappingURL=.*\n?$/, "");
        }
      }
    },
  }],
  onwarn: (warning) => { throw new Error(warning.message); },
});
await joined.write({
  dir: to,
  format: "es",
  entryFileNames: "[name]",
  chunkFileNames: "[name]",
  onlyExplicitManualChunks: true,
  manualChunks: (id) => together.get(id),
  hoistTransitiveImports: false,
  minifyInternalExports: false,
  sourcemap: true,
  sourcemapPathTransform: (path) => `sources/${path.slice(path.indexOf("apart/") + "apart/".length)}`,
});
