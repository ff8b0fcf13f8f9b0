import type { Logger } from "pino";
import type { Verifier } from "./jobs/verify-documents.js";
import type { Metrics } from "./metrics.js";
import type { Stores } from "./store/stores.js";
import type { ReceiverPolicy } from "./webhooks/address-guard.js";

/** Built once at the start, and handed to every job. */
export interface WorkerDeps extends Omit<Stores, "close"> {
  readonly verifier: Verifier;
  readonly log: Logger;
  readonly metrics: Metrics;
}

export interface WorkerSettings {
  /** Submissions judged at the same time. */
  readonly concurrency: number;
  readonly receivers: ReceiverPolicy;
  /** So long may a registered receiver take nothing before it is disabled. */
  readonly disableEndpointAfterMs: number;
  /** How long stopping may wait for what is running. */
  readonly stopMs: number;
  readonly sweepMs: number;
  /** Fresh work is on its way to a worker already; the sweep looks at what has been quiet for longer. */
  readonly quietMs?: number;
}
