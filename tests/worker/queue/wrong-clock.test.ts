import { afterAll, afterEach, beforeAll, describe, expect, test, vi } from "vitest";
import { openPostgresQueue } from "../../../worker/queue/postgres-queue.js";
import type { Perform, RunningWork, WorkQueue } from "../../../worker/queue/queue.js";
import { openRedisQueue } from "../../../worker/queue/redis-queue.js";
import { type QueueServers, startQueueServers } from "../../support/queue-servers.js";

const HOUR_MS = 3_600_000;
const JOB = { queue: "judge", subject: "a" } as const;

let servers: QueueServers;
let database: QueueServers["database"];

beforeAll(async () => {
  servers = await startQueueServers();
  ({ database } = servers);
});
afterAll(() => servers.remove());

let queue: WorkQueue;
const running: RunningWork[] = [];
afterEach(async () => {
  vi.useRealTimers();
  await Promise.all(running.splice(0).map((work) => work.close()));
  await queue.close();
});

const open = async (engine: "PostgreSQL" | "Redis") => {
  queue = engine === "Redis" ? await openRedisQueue({ url: servers.redis.url }) : openPostgresQueue(database.pool);
  await queue.clear();
};

function work(perform: Perform): RunningWork {
  const started = queue.work("judge", 1, perform);
  running.push(started);
  return started;
}

/** The wall clock alone, of this process. */
function setClockOff(ms: number): void {
  const right = Date.now();
  vi.useFakeTimers({ toFake: ["Date"], now: right + ms });
}

const columns = async (what: string) =>
  (await database.pool.query(`SELECT ${what} FROM bullmq.job WHERE queue = 'judge'`)).rows[0];
/** How far off, by the database's clock. */
const aheadMs = (column: string) => `${column} - (extract(epoch FROM clock_timestamp()) * 1000)::bigint`;

describe.each([["an hour ahead", HOUR_MS] as const, ["an hour back", -HOUR_MS] as const])(
  "a clock that is %s",
  (_, off) => {
    test.each([["PostgreSQL"], ["Redis"]] as const)(
      "on %s: a retry is not put off by it, once it is offered again",
      async (engine) => {
        await open(engine);
        await queue.addAgain([JOB]);
        setClockOff(off);
        const failed = new Promise<void>((resolve) => {
          work(async () => {
            setImmediate(resolve);
            throw new Error("documents away");
          });
        });
        await failed;
        await expect.poll(() => queue.countJobs("judge")).toBe(0);
        await running.pop()!.close();
        vi.useRealTimers();

        let performed = 0;
        work(async () => void performed++);
        await queue.addAgain([JOB]);
        await expect.poll(() => performed, { timeout: 5_000 }).toBe(1);
      },
    );

    test("on PostgreSQL: a retry, a lock and a job handed in have the database's times", async () => {
      await open("PostgreSQL");
      setClockOff(off);
      await queue.addAgain([JOB]);
      const times = await columns(`${aheadMs("added_at_ms")} AS ahead`);
      expect(Math.abs(Number(times.ahead))).toBeLessThan(60_000);

      let end = () => {};
      const taken = new Promise<void>((resolve) => {
        work(async () => {
          resolve();
          await new Promise<void>((go) => {
            end = go;
          });
          throw new Error("documents away");
        });
      });
      await taken;
      const lock = await columns(`${aheadMs("locked_until_ms")} AS ahead`);
      expect(Math.abs(Number(lock.ahead))).toBeLessThan(60_000);
      // Two of the checks that take a job over from a worker whose lock has run out, and a renewal.
      await new Promise((resolve) => setTimeout(resolve, 6_000));
      const renewed = await columns(`stalled_count, ${aheadMs("locked_until_ms")} AS ahead`);
      expect(Number(renewed.ahead)).toBeGreaterThan(0);
      expect(Number(renewed.ahead)).toBeLessThan(60_000);
      expect(renewed.stalled_count).toBe(0);

      end();
      await expect.poll(async () => (await columns("state")).state).toBe("delayed");
      const retry = await columns(`${aheadMs("process_at_ms")} AS ahead`);
      expect(Math.abs(Number(retry.ahead))).toBeLessThan(60_000);
    }, 20_000);
  },
);

test("on PostgreSQL a worker that is alone and an hour back wakes up for a retry by itself", async () => {
  await open("PostgreSQL");
  setClockOff(-HOUR_MS);
  await queue.addAgain([JOB]);
  let performed = 0;
  work(async () => {
    if (++performed < 3) throw new Error("documents away");
    return undefined;
  });
  await expect.poll(() => performed, { timeout: 10_000 }).toBe(3);
}, 20_000);

test("what the database's clock left behind when it was set back an hour is mended", async () => {
  await open("PostgreSQL");
  await queue.addAgain([JOB]);
  let end = () => {};
  work(
    () =>
      new Promise((resolve) => {
        end = () => resolve(undefined);
      }),
  );
  await expect.poll(async () => (await columns("state"))?.state).toBe("active");
  // As a worker leaves it that dies before the clock is set back.
  await database.pool.query("UPDATE bullmq.job SET lock_token = 'dead', locked_until_ms = locked_until_ms + $1", [
    HOUR_MS,
  ]);
  await database.pool.query("UPDATE bullmq.meta SET value = (value::bigint + $1)::text WHERE field = 'stalled-check'", [
    HOUR_MS,
  ]);
  await queue.mend();
  const { ahead } = await columns(`${aheadMs("locked_until_ms")} AS ahead`);
  expect(Number(ahead)).toBeLessThan(10_000);
  let takenOver = 0;
  work(async () => void takenOver++);
  await expect.poll(() => takenOver, { timeout: 20_000 }).toBe(1);
  end();
}, 40_000);
