import { copyFile, readFile, rm } from "node:fs/promises";
import { join } from "node:path";
import type { DocumentStore } from "../../worker/store/records.js";

/** A document store of plain files, for tests of what hands documents to it. */
export function folderDocuments(folder: string): DocumentStore {
  return {
    async put(sha256, path) {
      await copyFile(path, join(folder, sha256));
    },
    async get(sha256) {
      return await readFile(join(folder, sha256));
    },
    checkOut: async (sha256) => ({ path: join(folder, sha256), release: async () => {} }),
    remove: (sha256) => rm(join(folder, sha256), { force: true }),
    async check() {},
  };
}
