/**
 * Runs the fault suite from compiled sources: it starts some thirty processes, and each would spend three seconds of a core on
 * translating TypeScript, half of that run's time. Nothing is bundled, so that code finds the files that it looks for above itself.
 */
import { rmSync } from "node:fs";
import { copyFile } from "node:fs/promises";
import path from "node:path";
import { pathToFileURL } from "node:url";
import { build } from "esbuild";
import { glob } from "tinyglobby";

const outdir = `.cache/faults/${process.pid}`;

process.once("exit", () => rmSync(outdir, { recursive: true, force: true }));
await build({
  entryPoints: await glob(["api/**/*.ts", "core/**/*.ts", "worker/**/*.ts", "tests/faults/*.ts", "tests/support/*.ts"]),
  outdir,
  outbase: ".",
  format: "esm",
  platform: "node",
  target: "node20.19",
  sourcemap: true,
});
// The one file that is imported from above the sources.
await copyFile("package.json", path.join(outdir, "package.json"));
await import(pathToFileURL(path.resolve(outdir, "tests/faults/main.js")).href);
