import { fileURLToPath } from "node:url";
import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { openPostgresQueue } from "../../../worker/queue/postgres-queue.js";
import { enterPresence } from "../../../worker/queue/presence.js";
import type { RunningWork, WorkQueue } from "../../../worker/queue/queue.js";
import { openRedisQueue } from "../../../worker/queue/redis-queue.js";
import { type Child, startChild } from "../../support/child.js";
import { type QueueServers, startQueueServers } from "../../support/queue-servers.js";

/** Below the 9 s of a lock, which would give the job back as well. */
const SOONER_MS = 7_500;
const HOLDING = fileURLToPath(new URL("holding-process.ts", import.meta.url));

let servers: QueueServers;
let database: QueueServers["database"];

beforeAll(async () => {
  servers = await startQueueServers();
  ({ database } = servers);
});
afterAll(() => servers.remove());

/** The connections that say that somebody lives. */
async function presences(): Promise<readonly number[]> {
  const { rows } = await database.pool.query<{ pid: number }>(
    "SELECT pid FROM pg_locks WHERE locktype = 'advisory' AND objsubid = 2 AND granted",
  );
  return rows.map(({ pid }) => pid);
}

describe.each([["PostgreSQL"], ["Redis"]] as const)("a job on %s", (engine) => {
  let queue: WorkQueue;
  let running: RunningWork | undefined;
  let holder: Child | undefined;

  beforeEach(async () => {
    const present = () => enterPresence(database.pool);
    queue =
      engine === "Redis"
        ? await openRedisQueue({ url: servers.redis.url }, present)
        : openPostgresQueue(database.pool, present);
    await queue.clear();
    await queue.addAgain([{ queue: "judge", subject: "held" }]);
  });
  afterEach(async () => {
    await holder?.kill("SIGKILL");
    await running?.close();
    await queue.close();
  });

  /** Starts a process that holds the job, and a worker here; tells when that one gets it, and whether as taken over. */
  async function hold(environment: NodeJS.ProcessEnv = {}) {
    const redis = engine === "Redis" ? [servers.redis.url] : [];
    holder = startChild(HOLDING, [servers.databaseUrl, ...redis], environment);
    await holder.until((lines) => lines.includes("began held"));
    let begun: { readonly atMs: number; readonly isTakenOver: boolean } | undefined;
    running = queue.work("judge", 1, async (_, { isTakenOver }) => {
      begun = { atMs: performance.now(), isTakenOver };
      return undefined;
    });
    return {
      async begunWithin(ms: number) {
        const until = performance.now() + ms;
        while (!begun && performance.now() < until) await new Promise((resolve) => setTimeout(resolve, 50));
        return begun;
      },
    };
  }

  test("whose worker is killed is taken over before its lock runs out", async () => {
    const held = await hold();
    await holder!.kill("SIGKILL");
    expect(await held.begunWithin(SOONER_MS)).toMatchObject({ isTakenOver: true });
  });

  test("whose worker lost its connection, and lives, stays its own", async () => {
    const held = await hold();
    for (let cut = 0; cut < 3; cut++) {
      await expect.poll(async () => (await presences()).length, { timeout: 5_000 }).toBe(2);
      for (const pid of await presences()) await database.pool.query("SELECT pg_terminate_backend($1)", [pid]);
      expect(await held.begunWithin(1_500)).toBeUndefined();
    }
    expect(await held.begunWithin(3_000)).toBeUndefined();
  });

  test("whose worker is of an earlier version, without a presence, stays its own", async () => {
    const held = await hold({ WITHOUT_PRESENCE: "1" });
    expect(await held.begunWithin(5_000)).toBeUndefined();
  });
});
