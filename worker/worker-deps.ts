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
  readonly retention: RetentionDays;
  /** How often what is no longer to be kept is taken away. */
  readonly retentionMs: number;
  /** Fresh work is on its way to a worker already; the sweep looks at what has been quiet for longer. */
  readonly quietMs?: number;
}

/** Whole days after which something is taken away; 0: never. */
export interface RetentionDays {
  /** Submissions with everything that was made of them. */
  readonly submissions: number;
  /** The bytes of their documents. */
  readonly documents: number;
  readonly events: number;
  readonly dryRuns: number;
  readonly gradesMet: number;
  readonly idempotencyKeys: number;
}
