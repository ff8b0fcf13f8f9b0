import { enterWaitingAcceptances } from "../store/acceptances.js";
import { listOverdueDeliveryJobs, listUnfinishedJobs } from "../store/backlog.js";
import { countUnfinishedTrials, listUnfinishedTrialJobs } from "../store/trial-jobs.js";
import type { WorkerDeps, WorkerSettings } from "../worker-deps.js";
import { sweep } from "./sweep.js";

/** Somebody emptied Redis, or it came back without what it had acknowledged. */
export const QUEUE_HAS_LOST = "the queue had lost jobs; offered unfinished work to it again";
const QUIET_MS = 15_000;
/** Counts can hide a lost job behind one too many; every so often nothing is taken on trust. */
const THOROUGH_EVERY = 10;

/** Sweeps once before it resolves, and then again and again until stopped. */
export async function startSweeping(
  deps: WorkerDeps,
  settings: Pick<WorkerSettings, "sweepMs" | "quietMs">,
): Promise<{ stop(): Promise<void> }> {
  let round = 0;
  let running = sweepOnce(deps, 0, true);
  await running;
  const timer = setInterval(() => {
    round++;
    const thorough = round % THOROUGH_EVERY === 0;
    running = running.then(() => sweepOnce(deps, settings.quietMs ?? QUIET_MS, thorough));
  }, settings.sweepMs);
  timer.unref();
  return {
    async stop() {
      clearInterval(timer);
      await running;
    },
  };
}

async function sweepOnce(deps: WorkerDeps, quietMs: number, thorough: boolean): Promise<void> {
  const { pool, queue, records, log, metrics } = deps;
  try {
    const backlog = await records.countBacklog();
    metrics.pending.set({ state: "accepted" }, backlog.accepted);
    metrics.pending.set({ state: "working" }, backlog.working);
    metrics.oldestPendingSeconds.set(backlog.oldestPendingSeconds);
    metrics.deliveriesPending.set(backlog.deliveriesPending);

    await enterWaitingAcceptances(pool);
    await queue.mend();

    const found = await sweep(
      {
        async *unfinished(ms) {
          yield* listUnfinishedJobs(pool, ms);
          const trials = await listUnfinishedTrialJobs(pool, ms);
          if (trials.length > 0) yield trials;
        },
        overdueDeliveries: (ms) => listOverdueDeliveryJobs(pool, ms),
        addAgain: (jobs) => queue.addAgain(jobs),
        count: async () => ({
          unfinished: backlog.accepted + backlog.working + (await countUnfinishedTrials(pool)),
          queued: await queue.countJobs("judge"),
        }),
      },
      quietMs,
      thorough,
    );
    metrics.swept.inc({ queue: "judge" }, found.submissions);
    metrics.swept.inc({ queue: "deliver" }, found.deliveries);
    const { isMissingJobs, ...offered } = found;
    // The first sweep of a process says nothing of a loss: an embedded one begins with an empty queue.
    if (isMissingJobs && quietMs > 0) log.warn(offered, QUEUE_HAS_LOST);
    else if (found.submissions + found.deliveries > 0) log.info(offered, "offered unfinished work to the queue again");
  } catch (error) {
    log.warn({ err: error }, "sweep did not get through; the next one starts over");
  }
}
