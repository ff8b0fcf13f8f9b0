import { Counter, Gauge, Histogram, type Registry } from "prom-client";

export type Metrics = ReturnType<typeof createMetrics>;

/** Names and units by the Prometheus conventions; never an id in a label. */
export function createMetrics(registry: Registry) {
  const registers = [registry];
  return {
    submissions: new Counter({
      name: "heatgate_submissions_total",
      help: "Submissions made final, by verdict, or by failure code.",
      labelNames: ["outcome"],
      registers,
    }),
    jobs: new Counter({
      name: "heatgate_jobs_total",
      help: "Jobs run, by queue and how they ended.",
      labelNames: ["queue", "result"],
      registers,
    }),
    jobSeconds: new Histogram({
      name: "heatgate_job_duration_seconds",
      help: "From the start of a job to its end.",
      labelNames: ["queue"],
      buckets: SECONDS,
      registers,
    }),
    jobWaitSeconds: new Histogram({
      name: "heatgate_job_wait_seconds",
      help: "From when a job could have started to when it did.",
      labelNames: ["queue"],
      buckets: [0.001, 0.005, 0.01, 0.05, 0.1, 0.5, 1, 5, 15, 60, 300],
      registers,
    }),
    stageSeconds: new Histogram({
      name: "heatgate_stage_duration_seconds",
      help: "Parts of judging: fetch, read with recognising, recognise (unpacking what the child made of it; each per document), judge and store (per submission).",
      labelNames: ["stage"],
      buckets: SECONDS,
      registers,
    }),
    doubts: new Counter({
      name: "heatgate_doubts_total",
      help: "Doubts in reports, by their code.",
      labelNames: ["reason"],
      registers,
    }),
    undetermined: new Counter({
      name: "heatgate_undetermined_total",
      help: "Findings that stayed undetermined, by reason.",
      labelNames: ["reason"],
      registers,
    }),
    stalled: new Counter({
      name: "heatgate_stalled_total",
      help: "Jobs taken over from a worker that stopped answering.",
      labelNames: ["queue"],
      registers,
    }),
    deliveries: new Counter({
      name: "heatgate_deliveries_total",
      help: "Tries at webhook deliveries, by what became of the delivery.",
      labelNames: ["state"],
      registers,
    }),
    swept: new Counter({
      name: "heatgate_swept_total",
      help: "Jobs that the sweep handed to the queue again.",
      labelNames: ["queue"],
      registers,
    }),
    removed: new Counter({
      name: "heatgate_removed_total",
      help: "What was taken away because its time was over, by kind; bytes: documents removed from their store, for whatever reason.",
      labelNames: ["kind"],
      registers,
    }),
    queueErrors: new Counter({
      name: "heatgate_queue_errors_total",
      help: "Errors that the queue's connections reported.",
      labelNames: ["queue"],
      registers,
    }),
    pending: new Gauge({
      name: "heatgate_pending_submissions",
      help: "Submissions accepted and not final, at the last sweep.",
      labelNames: ["state"],
      registers,
    }),
    oldestPendingSeconds: new Gauge({
      name: "heatgate_oldest_pending_seconds",
      help: "Age of the oldest submission that is not final, at the last sweep.",
      registers,
    }),
    deliveriesPending: new Gauge({
      name: "heatgate_pending_deliveries",
      help: "Deliveries with tries left, at the last sweep.",
      registers,
    }),
    heartbeats: new Counter({
      name: "heatgate_heartbeats_total",
      help: "Known documents judged to see whether the verdict is right: right, wrong, late, error.",
      labelNames: ["outcome"],
      registers,
    }),
    heartbeatSeconds: new Histogram({
      name: "heatgate_heartbeat_duration_seconds",
      help: "From handing a heartbeat document in until its report was compared.",
      buckets: SECONDS,
      registers,
    }),
  };
}

const SECONDS = [0.005, 0.01, 0.025, 0.05, 0.1, 0.25, 0.5, 1, 2.5, 5, 10, 30, 60];
