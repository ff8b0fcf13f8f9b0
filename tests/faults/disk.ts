import { execFileSync } from "node:child_process";
import { closeSync, openSync, writeSync } from "node:fs";

/** Puts a disk of its own, in memory, where the folder is: "4m". What it answers takes it away again. */
export function mountDisk(folder: string, size: string): () => void {
  execFileSync("mount", ["-t", "tmpfs", "-o", `size=${size}`, "tmpfs", folder]);
  const unmount = () => {
    process.off("exit", unmount);
    execFileSync("umount", ["--lazy", folder]);
  };
  // A run that is cut short must not leave a disk behind.
  process.once("exit", unmount);
  return unmount;
}

/** Writes a file until the disk it is on has no byte left. Taking the file away is the repair. */
export function fillDisk(path: string): void {
  const file = openSync(path, "w");
  try {
    for (;;) writeSync(file, Buffer.alloc(4_096));
  } catch (error) {
    if ((error as NodeJS.ErrnoException).code !== "ENOSPC") throw error;
  } finally {
    closeSync(file);
  }
}
