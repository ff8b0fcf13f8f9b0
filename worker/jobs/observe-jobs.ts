import { SpanKind } from "@opentelemetry/api";
import type { JobContext, Perform, QueueName, RunningWork } from "../queue/queue.js";
import { sampled } from "../sampled.js";
import { contextOf, inSpan } from "../tracing/span.js";
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
      const result = await traced(name, subject, context, () => perform(subject, context));
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

/** The job belongs to the trace of whatever made it necessary, in whichever process that was. */
function traced<Result>(
  queue: QueueName,
  subject: string,
  context: JobContext,
  work: () => Promise<Result>,
): Promise<Result> {
  const { waitedMs, attempt, traceparent } = context;
  const attributes = {
    "messaging.destination.name": queue,
    "messaging.operation.type": "process",
    "heatgate.job.subject": subject,
    "heatgate.job.attempt": attempt,
    "heatgate.job.waited_ms": Math.max(0, waitedMs),
  };
  return inSpan(`process ${queue}`, { kind: SpanKind.CONSUMER, attributes, parent: contextOf(traceparent) }, work);
}

const SAY_EVERY_MS = 10_000;
