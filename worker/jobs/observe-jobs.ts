import type { Perform, QueueName, RunningWork } from "../queue/queue.js";
import { sampled } from "../sampled.js";
import type { WorkerDeps } from "../worker-deps.js";

/** Runs the jobs of one queue, and counts, times and logs what happens to them. */
export function observeJobs(
  { queue, log, metrics }: Pick<WorkerDeps, "queue" | "log" | "metrics">,
  name: QueueName,
  concurrency: number,
  perform: Perform,
): RunningWork {
  const work = queue.work(name, concurrency, async (subject, context) => {
    const end = metrics.jobSeconds.startTimer({ queue: name });
    metrics.jobWaitSeconds.observe({ queue: name }, Math.max(0, context.waitedMs) / 1000);
    try {
      const result = await perform(subject, context);
      metrics.jobs.inc({ queue: name, result: "ended" });
      return result;
    } catch (error) {
      metrics.jobs.inc({ queue: name, result: "thrown" });
      log.warn({ queue: name, subject, attempt: context.attempt, err: error }, "job will be tried again");
      throw error;
    } finally {
      end();
    }
  });
  work.onStalled((subject) => {
    metrics.stalled.inc({ queue: name });
    log.warn({ queue: name, subject }, "job taken over from a worker that stopped answering");
  });
  const say = sampled((error, unsaid) => log.error({ queue: name, err: error, unsaid }, "queue error"), SAY_EVERY_MS);
  work.onError((error) => {
    metrics.queueErrors.inc({ queue: name });
    say(error);
  });
  return work;
}

const SAY_EVERY_MS = 10_000;
