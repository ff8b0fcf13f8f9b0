import type { Job } from "../queue/queue.js";

export interface SweepDeps {
  /** Jobs for what is accepted and unfinished, untouched for so long. */
  unfinished(untouchedForMs: number): AsyncIterable<readonly Job[]>;
  overdueDeliveries(overdueByMs: number): AsyncIterable<readonly Job[]>;
  addAgain(jobs: readonly Job[]): Promise<void>;
}

/**
 * Puts back on the queue whatever the records know to be unfinished. A job that is still there is not added twice, so the
 * sweep may look at too much, but never at too little.
 */
export async function sweep(deps: SweepDeps, quietMs: number): Promise<{ submissions: number; deliveries: number }> {
  let submissions = 0;
  for await (const jobs of deps.unfinished(quietMs)) {
    await deps.addAgain(jobs);
    submissions += jobs.length;
  }
  let deliveries = 0;
  for await (const jobs of deps.overdueDeliveries(Math.min(quietMs, OVERDUE_MS))) {
    await deps.addAgain(jobs);
    deliveries += jobs.length;
  }
  return { submissions, deliveries };
}

/** A delivery has a time of its own; what is this late has been forgotten, not held up. */
const OVERDUE_MS = 5_000;
