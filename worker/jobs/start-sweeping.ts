import { listOverdueDeliveryJobs, listUnfinishedJobs } from "../store/backlog.js";
import type { WorkerDeps, WorkerSettings } from "../worker-deps.js";
import { sweep } from "./sweep.js";

const QUIET_MS = 15_000;

/** Sweeps once before it resolves, and then again and again until stopped. */
export async function startSweeping(
  deps: WorkerDeps,
  settings: Pick<WorkerSettings, "sweepMs" | "quietMs">,
): Promise<{ stop(): Promise<void> }> {
  let running = sweepOnce(deps, 0);
  await running;
  const timer = setInterval(() => {
    running = running.then(() => sweepOnce(deps, settings.quietMs ?? QUIET_MS));
  }, settings.sweepMs);
  timer.unref();
  return {
    async stop() {
      clearInterval(timer);
      await running;
    },
  };
}

async function sweepOnce({ pool, queue, records, log, metrics }: WorkerDeps, quietMs: number): Promise<void> {
  try {
    const found = await sweep(
      {
        unfinished: (ms) => listUnfinishedJobs(pool, ms),
        overdueDeliveries: (ms) => listOverdueDeliveryJobs(pool, ms),
        addAgain: (jobs) => queue.addAgain(jobs),
      },
      quietMs,
    );
    metrics.swept.inc({ queue: "judge" }, found.submissions);
    metrics.swept.inc({ queue: "deliver" }, found.deliveries);
    if (found.submissions + found.deliveries > 0) log.info(found, "swept unfinished work back to the queue");

    const backlog = await records.countBacklog();
    metrics.pending.set({ state: "accepted" }, backlog.accepted);
    metrics.pending.set({ state: "working" }, backlog.working);
    metrics.oldestPendingSeconds.set(backlog.oldestPendingSeconds);
    metrics.deliveriesPending.set(backlog.deliveriesPending);
  } catch (error) {
    log.warn({ err: error }, "sweep did not get through; the next one starts over");
  }
}
