import { startDelivering } from "./jobs/start-delivering.js";
import { startJudging } from "./jobs/start-judging.js";
import { startSweeping } from "./jobs/start-sweeping.js";
import { within } from "./within.js";
import type { WorkerDeps, WorkerSettings } from "./worker-deps.js";

export interface RunningWorker {
  /** Takes no new work and resolves when what is running has ended, or the time for it is over. */
  stop(): Promise<void>;
}

/** Judges, delivers and sweeps until stopped. The stores stay open; they belong to whoever opened them. */
export async function startWorker(deps: WorkerDeps, settings: WorkerSettings): Promise<RunningWorker> {
  const judging = startJudging(deps, settings.concurrency);
  const delivering = startDelivering(deps, settings);
  const sweeping = await startSweeping(deps, settings);
  return {
    async stop() {
      const ended = Promise.all([sweeping.stop(), judging.close(), delivering.close()]);
      if (!(await within(settings.stopMs, ended))) {
        deps.log.warn({ stopMs: settings.stopMs }, "stopped while jobs were running; another worker will take them up");
      }
    },
  };
}
