import { Registry } from "prom-client";
import { expect, test } from "vitest";
import { measureRequests } from "../../api/middleware/measure-requests.js";
import { observeStages } from "../../worker/jobs/observe-stages.js";
import { createMetrics } from "../../worker/metrics.js";
import { createRegistry } from "../../worker/process-metrics.js";
import { createStoreGauge } from "../../worker/watch-stores.js";
import { namingVerifier } from "../support/invented.js";
import { finishedReport } from "../support/test-api.js";

/** Prometheus: an application prefix, base units, `_total` for counters and for nothing else; never an id in a label. */
test("every metric is named by convention", async () => {
  const registry = new Registry();
  createMetrics(registry);
  measureRequests(registry);
  createStoreGauge(registry);
  const labels = ["kind", "outcome", "queue", "result", "stage", "reason", "state", "store"];
  const http = ["http_request_method", "http_route", "http_response_status_code"];
  for (const metric of registry.getMetricsAsArray()) {
    const { name, help, labelNames } = metric as unknown as { name: string; help: string; labelNames: string[] };
    const type = metric.constructor.name;
    expect(name).toMatch(/^(heatgate|http_server)_[a-z_]+$/);
    expect(help).toMatch(/^[A-Z].*[.]$/);
    expect(name.endsWith("_total"), name).toBe(type === "Counter");
    if (type === "Histogram") expect(name).toMatch(/_seconds$/);
    for (const label of labelNames) expect([...labels, ...http]).toContain(label);
  }
});

test("the registry of a process tells the program's version and its own memory", async () => {
  const text = await createRegistry().metrics();
  expect(text).toMatch(/heatgate_build_info\{version="\d+[.]\d+[.]\d+",node="v\d+/);
  expect(text).toContain("process_resident_memory_bytes");
});

test("stages are timed, and what a report leaves open is counted by reason", async () => {
  const registry = new Registry();
  const report = JSON.parse(finishedReport("undetermined").json);
  const finding = { ...report.heats[0].findings[0], outcome: "undetermined", reason: "not-reported" };
  const doubtful = { code: "unit-missing", message: "It has no unit." };
  const told = {
    ...report,
    documents: [{ name: "a.csv", sha256: "0", reader: "csv", doubts: [doubtful, doubtful] }],
    heats: [{ ...report.heats[0], findings: [finding] }],
  };
  const { verifier } = observeStages(
    { verifier: { ...namingVerifier(), buildReport: () => told }, documents: {}, records: {} } as never,
    createMetrics(registry),
  ) as { verifier: ReturnType<typeof namingVerifier> };
  await verifier.read("a.csv", { name: "a.csv", mediaType: "" }, 0);
  verifier.buildReport({ documents: [], requirement: null, library: verifier.library });
  const text = await registry.metrics();
  expect(text).toContain('heatgate_doubts_total{reason="unit-missing"} 2');
  expect(text).toContain('heatgate_undetermined_total{reason="not-reported"} 1');
  expect(text).toContain('heatgate_stage_duration_seconds_count{stage="read"} 1');
  expect(text).toContain('heatgate_stage_duration_seconds_count{stage="judge"} 1');
});
