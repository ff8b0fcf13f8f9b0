import { afterAll, afterEach, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { openPostgresQueue } from "../../../worker/queue/postgres-queue.js";
import type { JobResult, Perform, RunningWork, WorkQueue } from "../../../worker/queue/queue.js";
import { openRedisQueue } from "../../../worker/queue/redis-queue.js";
import { inTransaction } from "../../../worker/store/transaction.js";
import { type QueueServers, startQueueServers } from "../../support/queue-servers.js";

let servers: QueueServers;
let database: QueueServers["database"];

beforeAll(async () => {
  servers = await startQueueServers();
  ({ database } = servers);
});
afterAll(() => servers.remove());

describe.each([["PostgreSQL"], ["Redis"]] as const)("the queue on %s", (engine) => {
  let queue: WorkQueue;
  let running: RunningWork | undefined;

  beforeEach(async () => {
    queue = engine === "Redis" ? await openRedisQueue({ url: servers.redis.url }) : openPostgresQueue(database.pool);
    await queue.clear();
  });
  afterEach(async () => {
    await running?.close();
    running = undefined;
    await queue.close();
  });

  /** Works until `enough` jobs were performed, and gives their subjects in order. */
  function perform(enough: number, each: Perform = async () => undefined): Promise<readonly string[]> {
    const performed: string[] = [];
    return new Promise((resolve) => {
      running = queue.work("judge", 2, async (subject, context) => {
        performed.push(subject);
        if (performed.length >= enough) setImmediate(() => resolve(performed));
        return each(subject, context);
      });
    });
  }

  test("performs what is added before and after it starts to work", async () => {
    await queue.addAgain([{ queue: "judge", subject: "early" }]);
    const done = perform(2);
    await queue.addAgain([{ queue: "judge", subject: "late" }]);
    expect([...(await done)].sort()).toEqual(["early", "late"]);
  });

  test("a job that waits already is not added twice; another key is another job", async () => {
    const job = { queue: "judge", subject: "a" } as const;
    await queue.addAgain([job, job, { ...job, key: "a-1" }]);
    await queue.addAgain([job]);
    expect(await queue.countJobs("judge")).toBe(2);
  });

  test("a job that throws is tried again, and says the how-manieth time it is", async () => {
    await queue.addAgain([{ queue: "judge", subject: "a" }]);
    const attempts: number[] = [];
    await perform(3, async (_, { attempt }) => {
      attempts.push(attempt);
      if (attempts.length < 3) throw new Error("database away");
      return undefined;
    });
    expect(attempts).toEqual([1, 2, 3]);
  });

  test("a job can be put off without using up its attempts", async () => {
    await queue.addAgain([{ queue: "judge", subject: "a" }]);
    const attempts: number[] = [];
    await perform(2, async (_, { attempt }): Promise<JobResult> => {
      attempts.push(attempt);
      return attempts.length === 1 ? { later: 10.5 } : undefined;
    });
    expect(attempts).toEqual([1, 1]);
  });

  test("once a job is done, the same one can be added again", async () => {
    const job = { queue: "judge", subject: "a" } as const;
    await queue.addAgain([job]);
    await perform(1);
    await running?.close();
    await queue.addAgain([job]);
    expect(await perform(1)).toEqual(["a"]);
  });

  test("the two queues do not mix", async () => {
    await queue.addAgain([
      { queue: "deliver", subject: "event" },
      { queue: "judge", subject: "submission" },
    ]);
    expect(await perform(1)).toEqual(["submission"]);
  });

  test("closing waits for what is running", async () => {
    await queue.addAgain([{ queue: "judge", subject: "slow" }]);
    let ended = false;
    await perform(1, async () => {
      await new Promise((resolve) => setTimeout(resolve, 150));
      ended = true;
      return undefined;
    });
    await running!.close();
    running = undefined;
    expect(ended).toBe(true);
  });

  test("the check passes while the engine is there", async () => {
    await expect(queue.check()).resolves.toBeUndefined();
  });
});

// `bullmq.add_job` is not in BullMQ's documented interface. This test stands between us and an upgrade that changes it.
test("on PostgreSQL a job shares the fate of the transaction that adds it", async () => {
  const queue = openPostgresQueue(database.pool);
  await queue.clear();
  const cancelled = inTransaction(database.pool, async (client) => {
    await queue.addWithin(client, { queue: "judge", subject: "cancelled" });
    throw new Error("changed my mind");
  });
  await expect(cancelled).rejects.toThrow("changed my mind");
  expect(await queue.countJobs("judge")).toBe(0);

  const first = await new Promise<string>((resolve) => {
    const running = queue.work("judge", 1, async (subject) => {
      setImmediate(() => void running.close().then(() => resolve(subject)));
      return undefined;
    });
    void inTransaction(database.pool, (client) => queue.addWithin(client, { queue: "judge", subject: "kept" }));
  });
  expect(first).toBe("kept");
  await queue.close();
});
