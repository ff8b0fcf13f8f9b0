import type { Job } from "../queue/queue.js";

export interface SweepDeps {
  /** Jobs for what is accepted and unfinished, untouched for so long. */
  unfinished(untouchedForMs: number): AsyncIterable<readonly Job[]>;
  overdueDeliveries(overdueByMs: number): AsyncIterable<readonly Job[]>;
  addAgain(jobs: readonly Job[]): Promise<void>;
  /** Unfinished submissions by the records, and jobs for submissions by the queue. */
  count(): Promise<{ readonly unfinished: number; readonly queued: number }>;
}

/**
 * Puts back on the queue whatever the records know to be unfinished. A job that is still there is not added twice, so the
 * sweep may look at too much, but never at too little. `thorough`: go through all of them, whatever the counts say. `isMissingJobs`: the
 * queue had fewer jobs than there was unfinished work that nobody had touched for a while.
 */
export async function sweep(
  deps: SweepDeps,
  quietMs: number,
  thorough: boolean,
): Promise<{ submissions: number; deliveries: number; isMissingJobs: boolean }> {
  let submissions = 0;
  const missing = await isMissingJobs(deps);
  if (thorough || missing) {
    for await (const jobs of deps.unfinished(quietMs)) {
      await deps.addAgain(jobs);
      submissions += jobs.length;
    }
  }
  let deliveries = 0;
  for await (const jobs of deps.overdueDeliveries(Math.min(quietMs, OVERDUE_MS))) {
    await deps.addAgain(jobs);
    deliveries += jobs.length;
  }
  return { submissions, deliveries, isMissingJobs: missing && submissions > 0 };
}

/** A delivery has a time of its own; what is this late has been forgotten, not held up. */
const OVERDUE_MS = 5_000;

/** With a long line before the workers, offering every job to a queue that has them all would be most of the work. */
async function isMissingJobs(deps: SweepDeps): Promise<boolean> {
  const { unfinished, queued } = await deps.count();
  return queued < unfinished;
}
