import { join } from "node:path";
import { setTimeout as sleep } from "node:timers/promises";
import { afterEach, beforeEach, describe, expect, test, vi } from "vitest";
import { readSettings } from "../../worker/config.js";
import { migrate } from "../../worker/store/migrate.js";
import { openSettingsDatabase, openStores } from "../../worker/store/open-stores.js";
import { WATCH_LIMITS, type WatchLimits, watchIdle } from "../../worker/watch-idle.js";
import { namingVerifier, newSubmission, storeDocument, temporaryFolder } from "../support/invented.js";
import { startPostgres } from "../support/postgres.js";
import { startRedis } from "../support/redis.js";
import { startTestWorker } from "../support/running-worker.js";
import { startSilentProxy } from "../support/silent-proxy.js";

describe("what counts as stuck", () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  const tenMinutes = 600_000;
  async function watched(countReady: (look: number) => Promise<number>, idleForMs: () => number) {
    const alarms: unknown[] = [];
    let look = 0;
    const queue = { name: "judge", idleForMs, countReady: () => countReady(look++) } as const;
    const watch = watchIdle([queue], WATCH_LIMITS, (...alarm) => alarms.push(alarm));
    await vi.advanceTimersByTimeAsync(tenMinutes);
    watch.stop();
    return { alarms, looks: look };
  }
  const idle = () => 90_000;

  test("jobs that wait beside an idle worker are an alarm, once", async () => {
    expect((await watched(async () => 3, idle)).alarms).toEqual([["judge", 3]]);
  });

  test.each<[string, (look: number) => Promise<number>, () => number]>([
    ["no jobs", async () => 0, idle],
    ["jobs that were taken between two of three looks", async (look) => (look % 3 === 2 ? 0 : 5), idle],
    ["a store that is away", () => Promise.reject(new Error("ECONNREFUSED")), idle],
    [
      "a store that is away now and then",
      (look) => (look % 2 ? Promise.resolve(5) : Promise.reject(new Error("x"))),
      idle,
    ],
    ["a worker that began one a moment ago", async () => 5, () => 59_999],
    ["a worker whose hands are full", async () => 5, () => 0],
  ])("%s is none", async (_, countReady, idleForMs) => {
    expect((await watched(countReady, idleForMs)).alarms).toEqual([]);
  });

  test("a worker that is busy asks nothing", async () => {
    expect(
      (
        await watched(
          async () => 5,
          () => 10,
        )
      ).looks,
    ).toBe(0);
  });

  test("one that begins a job while the question is under way is not stuck", async () => {
    let busy = false;
    const answer = async () => {
      busy = true;
      return 5;
    };
    expect((await watched(answer, () => (busy ? 1_000 : 90_000))).alarms).toEqual([]);
  });
});

const QUICK = { idleMs: 1_000, lookMs: 300, looks: 3 };

test("a worker whose connections to PostgreSQL fell silent notices; before that, and while the server is away, it does not", async () => {
  const postgres = await startPostgres();
  const folder = await temporaryFolder();
  const proxy = await startSilentProxy(join(postgres.folder, ".s.PGSQL.5432"));
  const direct = readSettings({ HEATGATE_DATA: folder.path, DATABASE_URL: postgres.url });
  const database = openSettingsDatabase(direct);
  await migrate(database.pool);
  await database.close();
  const sender = await openStores(direct, { warn: () => {} });
  const through = `postgres://postgres@127.0.0.1:${proxy.port}/postgres`;
  const stores = await openStores({ ...direct, DATABASE_URL: through }, { warn: () => {} });
  const worker = await startTestWorker(stores, namingVerifier(), { stopMs: 100 });
  const alarms: string[] = [];
  const watch = (limits: WatchLimits) => worker.onStuck((queue) => alarms.push(queue), limits);
  const submit = async () =>
    (await sender.records.createSubmission(newSubmission([await storeDocument(sender.documents, folder.path, "a")])))
      .id;

  expect(await sender.records.waitUntilFinal(await submit(), 60_000)).toMatchObject({ state: "done" });
  watch(QUICK);
  await sleep(3_000);
  postgres.stop("fast");
  await sleep(3_000);
  // After an error the queue asks again in 15 s: that is waited for, here as with the usual limits.
  watch({ ...QUICK, idleMs: 60_000 });
  await postgres.start();
  expect(await sender.records.waitUntilFinal(await submit(), 60_000)).toMatchObject({ state: "done" });
  expect(alarms).toEqual([]);
  // The report is there a moment before its job has ended; a hand that silence keeps full is not idle.
  for (const queue of ["judge", "deliver"] as const) {
    await expect.poll(() => sender.queue.countJobs(queue), { timeout: 30_000 }).toBe(0);
  }

  watch(QUICK);
  proxy.silence();
  await submit();
  await expect.poll(() => alarms, { timeout: 40_000 }).toEqual(["judge"]);
  await proxy.close();
  await worker.stop();
  await stores.close();
  await sender.close();
  await postgres.remove();
  await folder.remove();
}, 240_000);

test("jobs that wait are counted on Redis as well", async () => {
  const [postgres, redis, folder] = await Promise.all([startPostgres(), startRedis(), temporaryFolder()]);
  const settings = readSettings({ HEATGATE_DATA: folder.path, DATABASE_URL: postgres.url, REDIS_URL: redis.url });
  const database = openSettingsDatabase(settings);
  await migrate(database.pool);
  await database.close();
  const stores = await openStores(settings, { warn: () => {} });
  expect(await stores.queue.countReady("judge")).toBe(0);
  await stores.queue.addAgain([
    { queue: "judge", subject: "a" },
    { queue: "judge", subject: "b", delayMs: 60_000 },
    { queue: "deliver", subject: "c" },
  ]);
  expect(await stores.queue.countReady("judge")).toBe(1);
  await redis.kill();
  await expect(stores.queue.countReady("judge")).rejects.toThrow();
  await stores.close();
  await redis.remove();
  await postgres.remove();
  await folder.remove();
});
