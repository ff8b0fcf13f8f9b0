import { pino } from "pino";
import { Registry } from "prom-client";
import type { Verifier } from "../../worker/jobs/verify-documents.js";
import { createMetrics } from "../../worker/metrics.js";
import { type RunningWorker, startWorker } from "../../worker/start-worker.js";
import type { Stores } from "../../worker/store/stores.js";
import { STRICT_POLICY } from "../../worker/webhooks/address-guard.js";
import type { RetentionDays, WorkerSettings } from "../../worker/worker-deps.js";

export const KEEP_ALL: RetentionDays = {
  submissions: 0,
  documents: 0,
  events: 0,
  dryRuns: 0,
  gradesMet: 0,
  idempotencyKeys: 0,
};

/** A worker as the service starts it, which may call receivers on this machine. */
export function startTestWorker(
  stores: Stores,
  verifier: Verifier,
  settings: Partial<WorkerSettings> = {},
): Promise<RunningWorker> {
  return startWorker(
    {
      ...stores,
      verifier,
      log: pino({ level: process.env.TEST_LOG ?? "silent" }),
      metrics: createMetrics(new Registry()),
    },
    {
      concurrency: 2,
      disableEndpointAfterMs: 3_600_000,
      receivers: { ...STRICT_POLICY, loopback: true },
      stopMs: 20_000,
      sweepMs: 30_000,
      retention: KEEP_ALL,
      retentionMs: 60_000,
      quietMs: 15_000,
      ...settings,
    },
  );
}
