import { startDelivering } from "./jobs/start-delivering.js";
import { startJudging } from "./jobs/start-judging.js";
import { startRetention } from "./jobs/start-retention.js";
import { startSweeping } from "./jobs/start-sweeping.js";
import type { QueueName } from "./queue/queue.js";
import { WATCH_LIMITS, type WatchLimits, watchIdle } from "./watch-idle.js";
import { within } from "./within.js";
import type { WorkerDeps, WorkerSettings } from "./worker-deps.js";

export interface RunningWorker {
  /** Calls back, once, when this worker begins nothing although jobs wait and it could. Who asks again is told instead. */
  onStuck(tell: (queue: QueueName, waiting: number) => void, limits?: WatchLimits): void;
  /** Takes no new work and resolves when what is running has ended, or the time for it is over. */
  stop(): Promise<void>;
}

/** Judges, delivers, sweeps and keeps to the times of keeping until stopped. The stores stay open; they belong to whoever opened them. */
export async function startWorker(deps: WorkerDeps, settings: WorkerSettings): Promise<RunningWorker> {
  const judging = startJudging(deps, settings.concurrency);
  const delivering = startDelivering(deps, settings);
  const sweeping = await startSweeping(deps, settings);
  const retention = startRetention(deps, settings.retention, settings.retentionMs);
  const watched = [
    { name: "judge", idleForMs: judging.idleForMs, countReady: () => deps.queue.countReady("judge") },
    { name: "deliver", idleForMs: delivering.idleForMs, countReady: () => deps.queue.countReady("deliver") },
  ] as const;
  let watch: { stop(): void } | undefined;
  return {
    onStuck(tell, limits = WATCH_LIMITS) {
      watch?.stop();
      watch = watchIdle(watched, limits, tell);
    },
    async stop() {
      watch?.stop();
      const ended = Promise.all([sweeping.stop(), retention.stop(), judging.close(), delivering.close()]);
      if (!(await within(settings.stopMs, ended))) {
        deps.log.warn({ stopMs: settings.stopMs }, "stopped while jobs were running; another worker will take them up");
      }
    },
  };
}
