/**
 * Bundles every test file of the mutated folder with the code that it tests, once for a run of Stryker, in its sandbox. A bundle is
 * loaded afresh for every mutant, which takes milliseconds, so that no answer kept in a module outlives the mutant that gave it.
 */
import { readFile } from "node:fs/promises";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { glob } from "tinyglobby";

const folder = process.env.MUTATED_FOLDER;

/** Code that looks for files beside itself finds them where its source stands. */
const ownPlace = {
  name: "own-place",
  setup({ onLoad }) {
    onLoad({ filter: /[/\\](?:core|worker|tests)[/\\].*\.ts$/ }, async ({ path: file }) => {
      const source = await readFile(file, "utf8");
      return { contents: source.replaceAll("import.meta.url", JSON.stringify(pathToFileURL(file).href)), loader: "ts" };
    });
  },
};

/** The grades are read and checked once for all mutants of code that only uses them. */
const oneLibrary = {
  name: "one-library",
  setup({ onResolve, onLoad }) {
    onResolve({ filter: /[/]grade-files[.]js$/ }, ({ importer, resolveDir, path: file }) => {
      if (folder === "grades" || !importer.includes("tests")) return undefined;
      return { path: path.resolve(resolveDir, file.replace(/[.]js$/, ".ts")), namespace: "one-library" };
    });
    onLoad({ filter: /.*/, namespace: "one-library" }, ({ path: file }) => ({
      contents: `import { loadLibrary as load } from ${JSON.stringify(file)};
        export const loadLibrary = () => (globalThis.libraryOfAllMutants ??= load());`,
      resolveDir: path.dirname(file),
    }));
  },
};

await build({
  entryPoints: await glob(`tests/core/${folder}/**/*.test.ts`, {
    ignore: [
      // Tests of the data hold the numbers to each other; they take long and say little about the code.
      "**/every-grade-judged.test.ts",
      "**/library-data.test.ts",
      // Properties try hundreds of inputs: a rule is to be noticed by a case that names it.
      "**/*properties.test.ts",
    ],
  }),
  outdir: ".cache/mutation-bundles",
  outbase: `tests/core/${folder}`,
  outExtension: { ".js": ".mjs" },
  bundle: true,
  packages: "external",
  alias: { vitest: path.resolve(".ci/mutation-vitest.mjs") },
  external: [path.resolve(".ci/mutation-vitest.mjs")],
  format: "esm",
  platform: "node",
  target: "node20",
  plugins: [oneLibrary, ownPlace],
});
