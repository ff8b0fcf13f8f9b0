import { listMarkedBytes } from "../store/erased-bytes.js";
import {
  eraseOldDocuments,
  eraseOldSubmissions,
  type Remove,
  removeOldDryRuns,
  removeOldEvents,
  removeOldGradesMet,
  removeOldIdempotencyKeys,
} from "../store/retention.js";
import type { RetentionDays, WorkerDeps } from "../worker-deps.js";
import { removeBytes } from "./remove-bytes.js";

const REMOVALS: Readonly<Record<keyof RetentionDays, Remove>> = {
  submissions: eraseOldSubmissions,
  documents: eraseOldDocuments,
  events: removeOldEvents,
  dryRuns: removeOldDryRuns,
  gradesMet: removeOldGradesMet,
  idempotencyKeys: removeOldIdempotencyKeys,
};

/** Small enough that a transaction is over soon and nobody waits for its locks. */
const BATCH = 100;
/** What is left over has waited for days; it can wait for the next round. */
const ROUND_MS = 20_000;

type RetentionDeps = Pick<WorkerDeps, "pool" | "documents" | "log" | "metrics">;

/** Takes away what is no longer to be kept, again and again until stopped. */
export function startRetention(deps: RetentionDeps, days: RetentionDays, everyMs: number): { stop(): Promise<void> } {
  let running = Promise.resolve();
  let isStopping = false;
  const timer = setInterval(() => {
    running = running.then(() => keepToTime(deps, days, { isStopping: () => isStopping }));
  }, everyMs);
  timer.unref();
  return {
    async stop() {
      isStopping = true;
      clearInterval(timer);
      await running;
    },
  };
}

/** One round, which no failure of one kind keeps from the others. */
export async function keepToTime(
  deps: RetentionDeps,
  days: RetentionDays,
  { isStopping = () => false, batch = BATCH }: { isStopping?(): boolean; readonly batch?: number } = {},
): Promise<void> {
  const { pool, log, metrics } = deps;
  const until = performance.now() + ROUND_MS;
  const isOver = () => isStopping() || performance.now() > until;
  const rounds = Object.entries(REMOVALS).map(
    ([kind, remove]) => [kind, days[kind as keyof RetentionDays], remove] as const,
  );
  for (const [kind, keptDays, remove] of rounds) {
    if (keptDays > 0) await removeAll(kind, () => remove(pool, keptDays, batch));
  }
  // Also what was erased on request, where the store was away then.
  await removeAll("bytes", async () => removeBytes(deps, await listMarkedBytes(pool, batch), isOver));

  async function removeAll(kind: string, removeSome: () => Promise<number>): Promise<void> {
    try {
      let total = 0;
      for (let removed = batch; removed === batch && !isOver(); ) {
        removed = await removeSome();
        total += removed;
      }
      metrics.removed.inc({ kind }, total);
      if (total > 0) log.info({ kind, removed: total }, "took away what is no longer kept");
    } catch (error) {
      log.warn({ kind, err: error }, "could not take away what is no longer kept; the next round tries again");
    }
  }
}
