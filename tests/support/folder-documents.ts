import { existsSync } from "node:fs";
import { readFile, rename, rm } from "node:fs/promises";
import { join } from "node:path";
import type { DocumentStore } from "../../worker/store/records.js";

/** A document store of plain files, for tests of what hands documents to it. */
export function folderDocuments(folder: string): DocumentStore {
  return {
    async put(sha256, path) {
      const kept = join(folder, sha256);
      if (existsSync(kept)) await rm(path);
      else await rename(path, kept);
    },
    async get(sha256) {
      return await readFile(join(folder, sha256));
    },
    checkOut: async (sha256) => ({ path: join(folder, sha256), release: async () => {} }),
    async check() {},
  };
}
