import { randomUUID } from "node:crypto";
import { access, copyFile, mkdir, open, readFile, rename, rm, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import type { DocumentStore } from "./records.js";

/** Document bytes as files named by their SHA-256, in folders by its first two digits. */
export function openDocumentsFolder(folder: string): DocumentStore {
  const root = resolve(folder);
  const pathOf = (sha256: string) => {
    if (!/^[0-9a-f]{64}$/.test(sha256)) throw new Error("A document is named by 64 hexadecimal digits.");
    return join(root, sha256.slice(0, 2), sha256);
  };

  return {
    async put(sha256, path) {
      const kept = pathOf(sha256);
      if (await exists(kept)) {
        // Somebody may be storing the same bytes at this moment, and not have come to this.
        await flush(dirname(kept));
        await rm(path, { force: true });
        return;
      }
      await mkdir(dirname(kept), { recursive: true });
      await flush(path);
      await move(path, kept);
      // The name is as much part of the promise as the bytes: flush the folder, and the one it may be new in.
      await flush(dirname(kept));
      await flush(root);
    },
    get: async (sha256) => readFile(pathOf(sha256)),
    checkOut: async (sha256) => ({ path: pathOf(sha256), release: async () => {} }),
    async check() {
      await mkdir(root, { recursive: true });
      const probe = join(root, `.probe-${randomUUID()}`);
      await writeFile(probe, "probe");
      await rm(probe);
    },
  };
}

async function exists(path: string): Promise<boolean> {
  return access(path).then(
    () => true,
    () => false,
  );
}

/** Until this returns, the bytes may be in memory only and a power cut would take them. */
async function flush(path: string): Promise<void> {
  const handle = await open(path, "r");
  try {
    await handle.sync();
  } finally {
    await handle.close();
  }
}

/** Takes the new name in one step, so that nobody ever reads half a document. */
async function move(from: string, to: string): Promise<void> {
  try {
    await rename(from, to);
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "EXDEV") throw error;
    // Uploads are on another disk: copy next to the place first.
    const near = `${to}.${randomUUID()}`;
    try {
      await copyFile(from, near);
      await flush(near);
      await rename(near, to);
    } catch (failure) {
      await rm(near, { force: true });
      throw failure;
    }
    await rm(from, { force: true });
  }
}
