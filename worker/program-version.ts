import { readFileSync } from "node:fs";
import { dirname, join } from "node:path";
import { fileURLToPath } from "node:url";

/** From package.json, which stands above the sources as well as above what is built from them. */
export function programVersion(): string {
  for (let folder = dirname(fileURLToPath(import.meta.url)); ; folder = dirname(folder)) {
    try {
      return (JSON.parse(readFileSync(join(folder, "package.json"), "utf8")) as { version: string }).version;
    } catch (error) {
      if ((error as NodeJS.ErrnoException).code !== "ENOENT" || folder === dirname(folder)) throw error;
    }
  }
}
