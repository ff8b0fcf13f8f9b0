import { open, rename, rm } from "node:fs/promises";

/** A file that is written piece by piece and appears under its name only when it is closed. */
export interface WholeFile {
  write(bytes: string | Uint8Array): Promise<void>;
  close(): Promise<void>;
  /** Takes away what was written. Nothing happens after `close`. */
  discard(): Promise<void>;
}

/**
 * A pipeline must not pick up half a report, whatever kills the command: what is unfinished stands beside it under another name.
 * Every operation throws an error that names the file.
 */
export async function openWholeFile(path: string): Promise<WholeFile> {
  const unfinished = `${path}.${process.pid}.part`;
  const named = async <T>(work: () => Promise<T>): Promise<T> => {
    try {
      return await work();
    } catch (error) {
      await rm(unfinished, { force: true });
      throw new Error(`${path} can't be written: ${(error as Error).message}`, { cause: error });
    }
  };
  const file = await named(() => open(unfinished, "w"));
  let isOpen = true;
  return {
    write: (bytes) => named(() => file.writeFile(bytes)),
    close: () =>
      named(async () => {
        isOpen = false;
        await file.close();
        await rename(unfinished, path);
      }),
    async discard() {
      if (!isOpen) return;
      isOpen = false;
      await file.close();
      await rm(unfinished, { force: true });
    },
  };
}

export async function writeWholeFile(path: string, bytes: string | Uint8Array): Promise<void> {
  const file = await openWholeFile(path);
  try {
    await file.write(bytes);
    await file.close();
  } finally {
    await file.discard();
  }
}
