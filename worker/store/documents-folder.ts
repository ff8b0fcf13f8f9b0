import { randomUUID } from "node:crypto";
import { access, copyFile, link, mkdir, open, readFile, rename, rm, writeFile } from "node:fs/promises";
import { dirname, join, resolve } from "node:path";
import type { DocumentStore } from "./records.js";

/** Document bytes as files named by their SHA-256, in folders by its first two digits. */
export function openDocumentsFolder(folder: string): DocumentStore {
  const root = resolve(folder);
  const pathOf = (sha256: string) => {
    if (!/^[0-9a-f]{64}$/.test(sha256)) throw new Error("A document is named by 64 hexadecimal digits.");
    return join(root, sha256.slice(0, 2), sha256);
  };

  /** Folders whose own names are known to be on disk. They are never taken away. */
  const lasting = new Set<string>();
  /** The name is as much part of the promise as the bytes: flushes its folder, and the one that is in, where it may be new. */
  const flushName = async (path: string) => {
    const folder = dirname(path);
    await flush(folder);
    if (lasting.has(folder)) return;
    await flush(root);
    lasting.add(folder);
  };

  return {
    async put(sha256, path) {
      const kept = pathOf(sha256);
      if (await exists(kept)) {
        // Somebody may be storing the same bytes at this moment, and not have come to this.
        await flushName(kept);
        return;
      }
      await mkdir(dirname(kept), { recursive: true });
      await flush(path);
      await keepAs(path, kept);
      await flushName(kept);
    },
    get: async (sha256) => readFile(pathOf(sha256)),
    checkOut: async (sha256) => ({ path: pathOf(sha256), release: async () => {} }),
    async remove(sha256) {
      const kept = pathOf(sha256);
      await rm(kept, { force: true });
      if (await exists(dirname(kept))) await flush(dirname(kept));
    },
    async check() {
      await mkdir(root, { recursive: true });
      const probe = join(root, `.probe-${randomUUID()}`);
      try {
        await writeFile(probe, "probe");
      } finally {
        // On a full disk there is a name without bytes.
        await rm(probe, { force: true });
      }
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

/** Another name for the same bytes, taken in one step so that nobody ever reads half a document. */
async function keepAs(path: string, kept: string): Promise<void> {
  try {
    await link(path, kept);
  } catch (error) {
    const { code = "" } = error as NodeJS.ErrnoException;
    // Somebody was quicker with the same bytes.
    if (code === "EEXIST") return;
    if (!WITHOUT_LINKS.has(code)) throw error;
    await copyAs(path, kept);
  }
}

/** Uploads are on another disk, or on a file system that knows no second name. */
const WITHOUT_LINKS = new Set(["EXDEV", "EPERM", "ENOTSUP", "EOPNOTSUPP", "ENOSYS", "EMLINK"]);

/** Copies next to the place first. */
async function copyAs(path: string, kept: string): Promise<void> {
  const near = `${kept}.${randomUUID()}`;
  try {
    await copyFile(path, near);
    await flush(near);
    await rename(near, kept);
  } catch (failure) {
    await rm(near, { force: true });
    throw failure;
  }
}
