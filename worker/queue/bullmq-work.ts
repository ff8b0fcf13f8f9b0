import { type Job as BullJob, DelayedError, type JobsOptions, type WorkerOptions } from "bullmq";
import { currentTraceparent } from "../tracing/span.js";
import type { HeldJobs, Presence } from "./presence.js";
import type { Job, Perform, QueueName, RunningWork } from "./queue.js";

interface Payload {
  readonly subject: string;
  readonly traceparent?: string;
}

/** What every job is added with, on either engine. */
export function jobOptions(job: Job): JobsOptions {
  return {
    jobId: job.key ?? job.subject,
    attempts: 6,
    backoff: { type: "exponential", delay: 500, jitter: 0.5 },
    // The records say what is done. A finished job that stayed would only keep the sweep from adding it again.
    removeOnComplete: true,
    removeOnFail: true,
    ...(job.delayMs === undefined ? {} : { delay: job.delayMs }),
  };
}

export function payloadOf(job: Job): Payload {
  const traceparent = job.traceparent ?? currentTraceparent();
  return { subject: job.subject, ...(traceparent !== undefined && { traceparent }) };
}

/**
 * A worker that answers nothing, and did not end (presence.ts), is noticed when its lock has run out and two checks have seen it: within
 * 14 s. BullMQ's own defaults take a minute, and fail a job for good at its second crash; ours is counted in the records, where the limit
 * is known.
 */
export const LOCK_MS = 9_000;
const WORK_SETTINGS = {
  lockDuration: LOCK_MS,
  stalledInterval: 2_500,
  maxStalledCount: 3,
} as const satisfies Partial<WorkerOptions>;

type MakeWorker = (
  queue: QueueName,
  perform: (job: BullJob<Payload>, token?: string) => Promise<void>,
  options: Omit<WorkerOptions, "connection">,
) => StartedWorker;

interface StartedWorker {
  readonly id: string;
  run(): Promise<void>;
  on(event: "error", tell: (error: Error) => void): unknown;
  on(event: "stalled", tell: (jobId: string) => void): unknown;
  close(): Promise<void>;
}

/** Whose life others look for, and how they are told of its jobs. Left out where nobody else can be at work. */
export interface Holding {
  readonly presence: Presence;
  /** Ends the locks of the holder's jobs, so that the next look of `check` finds them without. */
  readonly jobs: Pick<HeldJobs, "listHolders"> & { endLocks(holder: string): Promise<void> };
}

export function startWork(
  make: MakeWorker,
  queue: QueueName,
  concurrency: number,
  perform: Perform,
  holding?: Holding,
): RunningWork {
  let running = 0;
  let changedAt = performance.now();
  const worker = make(queue, run, { ...WORK_SETTINGS, concurrency, autorun: false });
  let tellError: (error: Error) => void = () => {};
  // Without a listener an error event would end the process.
  worker.on("error", (error) => tellError(error));
  const watching = holding && holdAs(worker, holding);
  let isClosed = false;
  void (holding?.presence.entered ?? Promise.resolve())
    .then(() => (isClosed ? undefined : worker.run()))
    .catch((error) => tellError(error));
  return {
    async close() {
      isClosed = true;
      watching?.stop();
      await worker.close();
    },
    onStalled: (tell) => void worker.on("stalled", (jobId) => tell(jobId)),
    onError(tell) {
      tellError = tell;
    },
    idleForMs: () => (running >= concurrency ? 0 : performance.now() - changedAt),
  };

  async function run(job: BullJob<Payload>, token?: string): Promise<void> {
    running++;
    changedAt = performance.now();
    try {
      await performJob(job, token);
    } finally {
      running--;
      changedAt = performance.now();
    }
  }

  async function performJob(job: BullJob<Payload>, token?: string): Promise<void> {
    const { subject, traceparent } = job.data;
    const result = await perform(subject, {
      waitedMs: (job.processedOn ?? job.timestamp) - job.timestamp - (job.delay ?? 0),
      attempt: job.attemptsMade + 1,
      isTakenOver: job.stalledCounter > 0,
      ...(traceparent !== undefined && { traceparent }),
    });
    if (!result) return;
    // PostgreSQL refuses a part of a millisecond.
    await job.moveToDelayed(Date.now() + Math.ceil(result.later), token);
    throw new DelayedError();
  }
}

/**
 * Both are private in BullMQ's types: the name that its locks begin with, and its look for jobs without a lock. Its version is pinned, and
 * tests/worker/queue/presence.test.ts holds what is meant.
 */
function holdAs(worker: StartedWorker, { presence, jobs }: Holding): { stop(): void } {
  const inside = worker as unknown as { id: string; moveStalledJobsToWait(): Promise<void> };
  inside.id = presence.holder;
  return presence.watch({
    listHolders: () => jobs.listHolders(),
    async takeFrom(holder) {
      await jobs.endLocks(holder);
      await inside.moveStalledJobsToWait();
    },
  });
}

const BUSY_STATES = ["active", "waiting", "prioritized"] as const;

export function countBusyJobs(queue: {
  getJobCountByTypes(...states: (typeof BUSY_STATES)[number][]): Promise<number>;
}): Promise<number> {
  return queue.getJobCountByTypes(...BUSY_STATES);
}
