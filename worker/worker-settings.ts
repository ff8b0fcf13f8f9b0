import type { Settings } from "./config.js";
import type { ReceiverPolicy } from "./webhooks/address-guard.js";
import type { WorkerSettings } from "./worker-deps.js";

export function workerSettings(settings: Settings): WorkerSettings {
  return {
    concurrency: settings.HEATGATE_CONCURRENCY,
    receivers: receiverPolicy(settings),
    disableEndpointAfterMs: settings.HEATGATE_WEBHOOK_DISABLE_HOURS * 3_600_000,
    stopMs: settings.HEATGATE_STOP_SECONDS * 1_000,
    sweepMs: settings.HEATGATE_SWEEP_SECONDS * 1_000,
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
