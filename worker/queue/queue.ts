import type { Queryable } from "../store/transaction.js";

/** The two kinds of work. A job carries an id and its trace, and nothing else: what it is about stands in the records. */
export const QUEUES = ["judge", "deliver"] as const;
export type QueueName = (typeof QUEUES)[number];

export interface Job {
  readonly queue: QueueName;
  /** Submission id for judge, or a trial's (worker/store/trial-jobs); event id for deliver. */
  readonly subject: string;
  readonly delayMs?: number;
  /** Two jobs of one queue with the same key are one job. The subject, where left out. */
  readonly key?: string;
  /** What made the job necessary, as W3C Trace Context writes it. The running span, where left out. */
  readonly traceparent?: string;
}

/** Whether it may begin at once. */
export const isDue = (job: Job): boolean => (job.delayMs ?? 0) <= 0;

/**
 * Where work waits. It is a hint: whatever it loses, the sweep puts back from the records.
 * A queue in the same database takes a job inside the caller's transaction, any other one after the commit.
 */
export interface WorkQueue {
  /** Adds the job to the transaction of `client`, or does nothing where that cannot be. */
  addWithin(client: Queryable, job: Job): Promise<void>;
  /** The same as part of a larger statement, with its parameters numbered from here; undefined where that cannot be. */
  addBy(job: Job, firstParameter: number): PartOfStatement | undefined;
  /** Adds the job after the commit where `addWithin` did nothing. A failure here is left to the sweep. */
  addAfter(job: Job): Promise<void>;
  /**
   * Adds jobs that may well be there already and whose time has come: one that waits or runs is not added twice, one that was put off is
   * put off no longer. A clock that was wrong may have put it off for an hour.
   */
  addAgain(jobs: readonly Job[]): Promise<void>;
  /** Runs jobs until `close` of what it returns. Throwing from `perform` tries the job again later. */
  work(queue: QueueName, concurrency: number, perform: Perform): RunningWork;
  /** Jobs that wait for a worker, or run. Those that wait for their time are left out: that time may be wrong. */
  countJobs(queue: QueueName): Promise<number>;
  /** Jobs that a worker could begin now, asked over a connection made for the question: those in use may be dead. */
  countReady(queue: QueueName): Promise<number>;
  /** Puts right what a clock that jumped left behind in the queue. */
  mend(): Promise<void>;
  /** Forgets every job. Only for an owner that knows that nobody else works on them. */
  clear(): Promise<void>;
  /** Throws when a job could not be added now. */
  check(): Promise<void>;
  close(): Promise<void>;
}

export interface PartOfStatement {
  readonly sql: string;
  readonly values: readonly unknown[];
}

export type Perform = (subject: string, context: JobContext) => Promise<JobResult>;

/** What the job was told by the queue. */
export interface JobContext {
  readonly waitedMs: number;
  readonly attempt: number;
  /** A worker that had this job before stopped answering, and is taken to be dead. */
  readonly isTakenOver: boolean;
  readonly traceparent?: string;
}

/** `later`: put it back and take it up again after this time. */
export type JobResult = { readonly later: number } | undefined;

export interface RunningWork {
  /** Takes no new job, and resolves when those that run have ended. */
  close(): Promise<void>;
  /** Calls back for each job taken over from a worker that died. */
  onStalled(tell: (subject: string) => void): void;
  onError(tell: (error: Error) => void): void;
  /** Milliseconds since a job last began or ended; 0 while as many run as may. */
  idleForMs(): number;
}
