import { removeErasedBytes } from "../store/erased-bytes.js";
import type { WorkerDeps } from "../worker-deps.js";

/**
 * Removes the bytes of erased documents that nobody needs. What their store does not let go now is left to the next round and holds up
 * no others.
 * @returns how many were removed
 */
export async function removeBytes(
  { pool, documents, log }: Pick<WorkerDeps, "pool" | "documents" | "log">,
  sha256s: readonly string[],
  isOver: () => boolean = () => false,
): Promise<number> {
  let removed = 0;
  for (const sha256 of sha256s) {
    if (isOver()) break;
    const isRemoved = await removeErasedBytes(pool, documents, sha256).catch((error: unknown) => {
      log.warn({ err: error }, "the bytes of an erased document are still in their store");
      return false;
    });
    if (isRemoved) removed++;
  }
  return removed;
}
