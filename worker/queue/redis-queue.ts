import { Job as BullJob, Queue, Worker } from "bullmq";
import { countBusyJobs, type Holding, jobOptions, payloadOf, startWork } from "./bullmq-work.js";
import type { Presence } from "./presence.js";
import { isDue, type Job, QUEUES, type QueueName, type WorkQueue } from "./queue.js";
import { connectRedis, type RedisAddress } from "./redis-connection.js";

/**
 * BullMQ on Redis. A job is added after the commit it belongs to, and may be lost on the way or later: Redis acknowledges
 * what it can still forget. The sweep brings it back from the records. Without `enterPresence` a worker that dies is noticed by its locks alone.
 */
export async function openRedisQueue(address: RedisAddress, enterPresence?: () => Presence): Promise<WorkQueue> {
  // A request must not hang on a Redis that is away: adding fails at once, and the sweep adds again.
  const producer = connectRedis(address, {
    lazyConnect: true,
    enableOfflineQueue: false,
    maxRetriesPerRequest: 1,
    commandTimeout: 2_000,
    socketTimeout: 5_000,
  });
  producer.on("error", () => {});
  // Without this the first submissions would find it still connecting, and wait for the sweep.
  await producer.connect();
  const queues = new Map(
    QUEUES.map((name) => [name, new Queue(name, { connection: producer, prefix: PREFIX })] as const),
  );
  for (const queue of queues.values()) queue.on("error", () => {});
  let presence: Presence | undefined;

  async function addAll(jobs: readonly Job[]): Promise<void> {
    for (const name of QUEUES) {
      const own = jobs.filter((job) => job.queue === name);
      if (own.length > 0) await queues.get(name)!.addBulk(own.map(toBullJob));
    }
  }

  async function bringForward(name: QueueName, jobs: readonly Job[]): Promise<void> {
    if (jobs.length === 0) return;
    const ids = jobs.map((job) => jobOptions(job).jobId!);
    const times = await producer.zmscore(`${PREFIX}:${name}:delayed`, ...ids);
    for (const id of ids.filter((_, at) => times[at] !== null)) {
      const job = await BullJob.fromId(queues.get(name)!, id);
      // A worker took it up this moment.
      await job?.promote().catch(() => {});
    }
  }

  return {
    addWithin: async () => {},
    addBy: () => undefined,
    addAfter: (job) => addAll([job]),
    async addAgain(jobs) {
      await addAll(jobs);
      for (const name of QUEUES) {
        await bringForward(
          name,
          jobs.filter((job) => job.queue === name && isDue(job)),
        );
      }
    },
    // Locks are counted by the clock of Redis, and end with it.
    mend: async () => {},
    work(queue, concurrency, perform) {
      presence ??= enterPresence?.();
      // A worker has nothing to do without Redis, so it waits for it as long as it takes.
      const connection = connectRedis(address, { maxRetriesPerRequest: null, socketTimeout: SILENCE_MS });
      connection.on("error", () => {});
      const running = startWork(
        (name, run, options) => new Worker(name, run, { ...options, connection, prefix: PREFIX }),
        queue,
        concurrency,
        perform,
        presence && { presence, jobs: heldJobs(producer, queue) },
      );
      return {
        ...running,
        async close() {
          await running.close();
          connection.disconnect();
        },
      };
    },
    countJobs: (name) => countBusyJobs(queues.get(name)!),
    async countReady(name) {
      const asking = connectRedis(address, { lazyConnect: true, maxRetriesPerRequest: 0, commandTimeout: 10_000 });
      asking.on("error", () => {});
      try {
        await asking.connect();
        return await asking.llen(`${PREFIX}:${name}:wait`);
      } finally {
        asking.disconnect();
      }
    },
    async check() {
      await producer.set(`${PREFIX}:probe`, "1", "EX", 60);
    },
    async clear() {
      for (const queue of queues.values()) await queue.obliterate({ force: true });
    },
    async close() {
      await presence?.leave();
      await Promise.all([...queues.values()].map((queue) => queue.close()));
      producer.disconnect();
    },
  };
}

/** BullMQ takes jobs over that were marked by the look before, have no lock and are looked for no more than so often. */
function heldJobs(redis: ReturnType<typeof connectRedis>, queue: QueueName): Holding["jobs"] {
  const key = (name: string) => `${PREFIX}:${queue}:${name}`;
  const listLocks = async () => {
    const ids = await redis.lrange(key("active"), 0, -1);
    const tokens = ids.length === 0 ? [] : await redis.mget(ids.map((id) => key(`${id}:lock`)));
    return ids.flatMap((id, at) => (tokens[at] ? [{ id, token: tokens[at] }] : []));
  };
  const holderOf = (token: string) => token.split(":", 1)[0]!;
  return {
    async listHolders() {
      return [...new Set((await listLocks()).map(({ token }) => holderOf(token)))];
    },
    async endLocks(holder) {
      for (const { id, token } of await listLocks()) {
        // The job may have been taken over since, and have a lock of somebody who lives.
        if (holderOf(token) === holder) await redis.eval(END_LOCK, 2, key(`${id}:lock`), key("stalled"), token, id);
      }
      await redis.del(key("stalled-check"));
    },
  };
}

const END_LOCK = `
  if redis.call("GET", KEYS[1]) == ARGV[1] then
    redis.call("DEL", KEYS[1])
    redis.call("SADD", KEYS[2], ARGV[2])
  end`;

/** In braces, so that a Redis Cluster keeps everything of a queue on one node, as BullMQ needs it. */
const PREFIX = "{heatgate}";

/**
 * A connection that a firewall dropped looks alive for hours. BullMQ waits for a job for 10 s at most before it asks again, so
 * one that was silent for longer is dead, and is made anew.
 */
const SILENCE_MS = 15_000;

function toBullJob(job: Job) {
  return { name: job.queue, data: payloadOf(job), opts: jobOptions(job) };
}
