import { readFile } from "node:fs/promises";

const CHECK_EVERY_MS = 200;
const PAGE_BYTES = 4_096;

/** Calls `exceeded` once when the process holds more than it may. Systems without /proc are watched by the heap limit alone. */
export function watchResidentMemory(pid: number | undefined, limitMiB: number, exceeded: () => void): () => void {
  if (process.platform !== "linux" || pid === undefined) return () => {};
  const timer = setInterval(async () => {
    const pages = await residentPages(pid);
    if (pages === undefined || (pages * PAGE_BYTES) / 2 ** 20 <= limitMiB) return;
    clearInterval(timer);
    exceeded();
  }, CHECK_EVERY_MS);
  return () => clearInterval(timer);
}

async function residentPages(pid: number): Promise<number | undefined> {
  try {
    const [, resident] = (await readFile(`/proc/${pid}/statm`, "latin1")).split(" ");
    return Number(resident);
  } catch {
    return undefined; // It has ended in between.
  }
}
