import { Registry } from "prom-client";
import { afterEach, expect, test } from "vitest";
import { startHealthServer } from "../../worker/health-server.js";
import { createMetrics } from "../../worker/metrics.js";

let close = async () => {};
afterEach(() => close());

async function serve(state: { started: boolean; trouble?: string }) {
  const registry = new Registry();
  createMetrics(registry).submissions.inc({ outcome: "fail" });
  const ready = {
    queue: async () => {},
    records: async () => {
      if (state.trouble !== undefined) throw new Error(state.trouble);
    },
  };
  const server = await startHealthServer({ registry, started: () => state.started, ready }, "127.0.0.1", 0);
  close = server.close;
  return async (path: string) => {
    const response = await fetch(`http://127.0.0.1:${server.port}${path}`);
    return [response.status, await response.text()] as const;
  };
}

test("a worker that lost its database is alive, and not ready", async () => {
  const get = await serve({ started: true, trouble: "database away" });
  expect((await get("/livez"))[0]).toBe(200);
  const [status, body] = await get("/readyz");
  expect([status, JSON.parse(body)]).toEqual([503, { status: "fail", reason: "records: database away" }]);
});

test("a worker whose database keeps silent is not ready, and says so before the probe gives up", async () => {
  const registry = new Registry();
  const ready = { records: () => new Promise<void>(() => {}) };
  const server = await startHealthServer({ registry, started: () => true, ready }, "127.0.0.1", 0);
  close = server.close;
  const response = await fetch(`http://127.0.0.1:${server.port}/readyz`, { signal: AbortSignal.timeout(5_000) });
  expect([response.status, await response.json()]).toEqual([
    503,
    { status: "fail", reason: "records: no answer within 3 s" },
  ]);
});

test("a worker that has not started is neither ready nor started", async () => {
  const state = { started: false };
  const get = await serve(state);
  expect((await get("/startupz"))[0]).toBe(503);
  expect((await get("/readyz"))[0]).toBe(503);
  state.started = true;
  expect((await get("/startupz"))[0]).toBe(200);
  expect((await get("/readyz?verbose"))[0]).toBe(200);
});

test("metrics are there in Prometheus text, other paths are not", async () => {
  const get = await serve({ started: true });
  expect((await get("/metrics"))[1]).toContain('heatgate_submissions_total{outcome="fail"} 1');
  expect((await get("/admin"))[0]).toBe(404);
});
