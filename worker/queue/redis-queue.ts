import { Job as BullJob, Queue, Worker } from "bullmq";
import { countBusyJobs, jobOptions, payloadOf, startWork } from "./bullmq-work.js";
import { isDue, type Job, QUEUES, type QueueName, type WorkQueue } from "./queue.js";
import { connectRedis, type RedisAddress } from "./redis-connection.js";

/**
 * BullMQ on Redis. A job is added after the commit it belongs to, and may be lost on the way or later: Redis acknowledges
 * what it can still forget. The sweep brings it back from the records.
 */
export async function openRedisQueue(address: RedisAddress): Promise<WorkQueue> {
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
      // A worker has nothing to do without Redis, so it waits for it as long as it takes.
      const connection = connectRedis(address, { maxRetriesPerRequest: null, socketTimeout: SILENCE_MS });
      connection.on("error", () => {});
      const running = startWork(
        (name, run, options) => new Worker(name, run, { ...options, connection, prefix: PREFIX }),
        queue,
        concurrency,
        perform,
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
      await Promise.all([...queues.values()].map((queue) => queue.close()));
      producer.disconnect();
    },
  };
}

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
