import { setTimeout as sleep } from "node:timers/promises";

/**
 * Writes down what already happened, and does not give up at the first failure: a database that restarts is back in seconds,
 * and without the note the work would be done again. Throws the last failure when the time is over.
 */
export async function persist<Result>(write: () => Promise<Result>, withinMs: number): Promise<Result> {
  const until = performance.now() + withinMs;
  for (let waitMs = 100; ; waitMs = Math.min(waitMs * 2, 1_000)) {
    try {
      return await write();
    } catch (error) {
      if (performance.now() + waitMs > until) throw error;
      await sleep(waitMs);
    }
  }
}
