import { readFile, rm, stat, utimes, writeFile } from "node:fs/promises";
import { createServer, type Server } from "node:net";
import { hostname } from "node:os";
import { join } from "node:path";

export interface FolderLock {
  release(): Promise<void>;
}

export class FolderInUse extends Error {
  override readonly name = "FolderInUse";
}

/**
 * Keeps a second process off the data folder: PGlite would let it in without a word, and both would corrupt it.
 *
 * On Linux the lock is a listening abstract socket named by the folder's device and inode. It vanishes with its process,
 * so nothing is left behind by a kill. Such sockets are not seen across containers; for two containers on one volume
 * there is also a file whose time is renewed while its owner lives.
 */
export async function lockFolder(folder: string): Promise<FolderLock> {
  const file = join(folder, "in-use");
  const socket = process.platform === "linux" ? await listenOnSocket(folder) : undefined;
  try {
    await refuseOtherHolder(file, folder);
    await writeFile(file, JSON.stringify({ host: hostname(), pid: process.pid }));
  } catch (error) {
    socket?.close();
    throw error;
  }
  const renewal = setInterval(() => {
    const now = new Date();
    // A folder that went away is noticed by every write to it; the lock need not shout.
    utimes(file, now, now).catch(() => {});
  }, RENEW_MS);
  renewal.unref();

  return {
    async release() {
      clearInterval(renewal);
      await rm(file, { force: true });
      await new Promise<void>((resolve) => (socket ? socket.close(() => resolve()) : resolve()));
    },
  };
}

const RENEW_MS = 5_000;
const STALE_MS = 20_000;

async function listenOnSocket(folder: string): Promise<Server> {
  const { dev, ino } = await stat(folder);
  const server = createServer((connection) => connection.destroy());
  server.unref();
  return new Promise((resolve, reject) => {
    server.once("error", (error: NodeJS.ErrnoException) =>
      reject(error.code === "EADDRINUSE" ? inUse(folder, "another process on this machine") : error),
    );
    server.listen(`\0heatgate-${dev}-${ino}`, () => resolve(server));
  });
}

async function refuseOtherHolder(file: string, folder: string): Promise<void> {
  const holder = await readHolder(file);
  if (!holder) return;
  if (holder.host !== hostname()) {
    if (Date.now() - holder.renewedAt < STALE_MS) throw inUse(folder, `a process on ${holder.host}`);
    return;
  }
  // On Linux the socket has already answered for this machine.
  if (process.platform !== "linux" && holder.pid !== process.pid && isAlive(holder.pid)) {
    throw inUse(folder, `process ${holder.pid}`);
  }
}

async function readHolder(file: string): Promise<{ host: string; pid: number; renewedAt: number } | undefined> {
  try {
    const { host, pid } = JSON.parse(await readFile(file, "utf8"));
    return { host: String(host), pid: Number(pid), renewedAt: (await stat(file)).mtimeMs };
  } catch {
    // No file, or one cut off by a crash while it was written: nobody renews it, so nobody holds it.
    return undefined;
  }
}

function isAlive(pid: number): boolean {
  try {
    process.kill(pid, 0);
    return true;
  } catch (error) {
    return (error as NodeJS.ErrnoException).code === "EPERM";
  }
}

function inUse(folder: string, holder: string): FolderInUse {
  return new FolderInUse(
    `The data folder ${folder} is in use by ${holder}. Stop that process, or give this one another folder with HEATGATE_DATA.`,
  );
}
