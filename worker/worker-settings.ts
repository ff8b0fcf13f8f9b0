import type { Settings } from "./config.js";
import type { ReceiverPolicy } from "./webhooks/address-guard.js";
import type { WorkerSettings } from "./worker-deps.js";

/** Kept for days, nothing is due to the minute. */
const RETENTION_MS = 60_000;

export function workerSettings(settings: Settings): WorkerSettings {
  return {
    concurrency: settings.HEATGATE_CONCURRENCY,
    receivers: receiverPolicy(settings),
    disableEndpointAfterMs: settings.HEATGATE_WEBHOOK_DISABLE_HOURS * 3_600_000,
    stopMs: settings.HEATGATE_STOP_SECONDS * 1_000,
    sweepMs: settings.HEATGATE_SWEEP_SECONDS * 1_000,
    retention: {
      submissions: settings.HEATGATE_KEEP_SUBMISSIONS_DAYS,
      documents: settings.HEATGATE_KEEP_DOCUMENTS_DAYS,
      events: settings.HEATGATE_KEEP_EVENTS_DAYS,
      dryRuns: settings.HEATGATE_KEEP_DRY_RUNS_DAYS,
      gradesMet: settings.HEATGATE_KEEP_GRADES_MET_DAYS,
      idempotencyKeys: settings.HEATGATE_KEEP_IDEMPOTENCY_KEYS_DAYS,
    },
    retentionMs: RETENTION_MS,
    quietMs: Math.min(15_000, settings.HEATGATE_SWEEP_SECONDS * 1_000),
  };
}

export function receiverPolicy(settings: Settings): ReceiverPolicy {
  const allowed = new Set(settings.HEATGATE_WEBHOOK_ALLOW);
  return {
    loopback: allowed.has("loopback"),
    private: allowed.has("private"),
    http: allowed.has("http"),
    ports: settings.HEATGATE_WEBHOOK_PORTS,
  };
}
