import { pino } from "pino";
import { Registry } from "prom-client";
import { afterAll, afterEach, beforeAll, expect, test, vi } from "vitest";
import { readSettings } from "../../../worker/config.js";
import { createVerifier } from "../../../worker/create-verifier.js";
import { beat } from "../../../worker/heartbeat/beat.js";
import { startHeartbeat } from "../../../worker/heartbeat/start-heartbeat.js";
import { createMetrics } from "../../../worker/metrics.js";
import { readinessChecks } from "../../../worker/readiness-checks.js";
import type { RunningWorker } from "../../../worker/start-worker.js";
import { listAudit } from "../../../worker/store/audit.js";
import { beginHeartbeat, lastHeartbeat, nameHeartbeatSubmission } from "../../../worker/store/heartbeats.js";
import { openEmbedded } from "../../../worker/store/open-embedded.js";
import type { Stores } from "../../../worker/store/stores.js";
import { embeddedFolder } from "../../support/embedded-folder.js";
import { namingVerifier, newSubmission, UNREAD_DOCUMENT } from "../../support/invented.js";
import { startTestWorker } from "../../support/running-worker.js";

let folder: Awaited<ReturnType<typeof embeddedFolder>>;
let stores: Stores;
let worker: RunningWorker | undefined;

beforeAll(async () => {
  folder = await embeddedFolder();
  stores = await openEmbedded(folder.path, "https://heatgate.example");
});
afterEach(async () => {
  await worker?.stop();
  worker = undefined;
});
afterAll(async () => {
  await stores.close();
  await folder.remove();
});

const rowsLeft = async () => {
  const { rows } = await stores.pool.query(
    `SELECT (SELECT count(*) FROM heatgate.submission)::integer AS submissions, (SELECT count(*) FROM heatgate.heat)::integer AS heats,
            (SELECT count(*) FROM heatgate.event)::integer AS events, (SELECT count(*) FROM heatgate.delivery)::integer AS deliveries`,
  );
  return rows[0];
};
/** Entries that are about no key, by kind and what they say. */
const trail = async () =>
  (await listAudit(stores.pool, "", 0, 100))
    .filter(({ kind }) => kind !== "signing-key.created")
    .map(({ kind, details }) => [kind, (details as { outcome?: string }).outcome]);
const NOTHING_LEFT = { submissions: 0, heats: 0, events: 0, deliveries: 0 };
const readySettings = (seconds: string) =>
  readinessChecks(stores, readSettings({ HEATGATE_HEARTBEAT_SECONDS: seconds }));

test("the real parts judge the heartbeat document as expected, and nothing of it stays", async () => {
  const verifier = await createVerifier({ children: 1 });
  worker = await startTestWorker(stores, verifier);
  await beginHeartbeat(stores.pool, 0);
  expect(await beat(stores, 30_000)).toEqual({ outcome: "right" });
  await verifier.close();
  expect(await rowsLeft()).toEqual(NOTHING_LEFT);
  expect(await trail()).toEqual([]);
});

test("a worker that judges wrongly raises the alarm and is not ready", async () => {
  worker = await startTestWorker(stores, namingVerifier());
  const lines: string[] = [];
  const registry = new Registry();
  const heartbeat = startHeartbeat(
    {
      ...stores,
      log: pino({ level: "info" }, { write: (line) => void lines.push(line) }),
      metrics: createMetrics(registry),
    },
    200,
  );
  await vi.waitFor(() => expect(lines.length).toBeGreaterThan(0), 20_000);
  await heartbeat.stop();
  expect(JSON.parse(lines[0]!)).toMatchObject({ level: 60, msg: "heartbeat judged wrongly" });
  expect(await registry.metrics()).toContain('heatgate_heartbeats_total{outcome="wrong"}');
  await expect(readySettings("300").heartbeat()).rejects.toThrow(
    /Expected: submission: fail .* Found: submission: undet/,
  );
  await expect(readySettings("0").heartbeat()).resolves.toBeUndefined();
  expect(await rowsLeft()).toEqual(NOTHING_LEFT);
  // However often it is wrong: once.
  await beat(stores, 30_000);
  expect(await trail()).toEqual([["heartbeat.changed", "wrong"]]);
});

test("where nobody works it is late, and taken away all the same", async () => {
  expect(await beat(stores, 50)).toMatchObject({ outcome: "late" });
  expect(await lastHeartbeat(stores.pool)).toMatchObject({ outcome: "late" });
  await expect(readySettings("300").heartbeat()).resolves.toBeUndefined();
  expect(await rowsLeft()).toEqual(NOTHING_LEFT);
});

test("processes take turns, and who comes next tidies up after one that died", async () => {
  expect(await beginHeartbeat(stores.pool, 0)).toBe(true);
  const { id } = await stores.records.createSubmission(newSubmission([UNREAD_DOCUMENT]));
  await nameHeartbeatSubmission(stores.pool, id);
  expect(await beginHeartbeat(stores.pool, 60_000)).toBe(false);
  expect((await rowsLeft()).submissions).toBe(1);
  expect(await beginHeartbeat(stores.pool, 0)).toBe(true);
  expect(await rowsLeft()).toEqual(NOTHING_LEFT);
});

test("a client's submission is never taken away, whatever the heartbeat's row says", async () => {
  const { id } = await stores.records.createSubmission(newSubmission([UNREAD_DOCUMENT], { owner: "tarnholm" }));
  await nameHeartbeatSubmission(stores.pool, id);
  await beginHeartbeat(stores.pool, 0);
  expect((await stores.records.getSubmission(id))?.id).toBe(id);
});
