import { type PostgresConnectionOptions, Queue, Worker } from "bullmq";
import pg from "pg";
import type { Queryable } from "../store/transaction.js";
import { countBusyJobs, type Holding, jobOptions, LOCK_MS, payloadOf, startWork } from "./bullmq-work.js";
import { createTimedBackend, DATABASE_NOW_MS } from "./database-time.js";
import type { Presence } from "./presence.js";
import { isDue, type Job, type PartOfStatement, QUEUES, type QueueName, type WorkQueue } from "./queue.js";

/**
 * BullMQ in the database that holds the records, so that a submission and its job are one commit. Without `enterPresence` nobody else may
 * work on it: a worker that dies is then noticed by its locks alone.
 */
export function openPostgresQueue(pool: pg.Pool, enterPresence?: () => Presence): WorkQueue {
  const connection = pool as PostgresConnectionOptions;
  const queues = new Map(
    QUEUES.map((name) => [name, new Queue(name, { connection, ...EVENT_LIMIT }, createTimedBackend)] as const),
  );
  for (const queue of queues.values()) queue.on("error", () => {});
  let presence: Presence | undefined;

  return {
    addWithin: (client, job) => addJobs(client, [job]),
    addBy: (job, firstParameter) => adding([job], firstParameter),
    addAfter: async () => {},
    async addAgain(jobs) {
      await addJobs(pool, jobs);
      await bringForward(pool, jobs.filter(isDue));
    },
    work(queue, concurrency, perform) {
      presence ??= enterPresence?.();
      return startWork(
        (name, run, options) => new Worker(name, run, { ...options, connection }, createTimedBackend),
        queue,
        concurrency,
        perform,
        presence && { presence, jobs: heldJobs(pool, queue) },
      );
    },
    countJobs: (name) => countBusyJobs(queues.get(name)!),
    async countReady(name) {
      // The pool keeps the password out of what is copied.
      const client = new pg.Client({ ...pool.options, password: pool.options.password, query_timeout: 10_000 });
      client.on("error", () => {});
      try {
        await client.connect();
        const { rows } = await client.query(
          "SELECT count(*)::integer AS ready FROM bullmq.job WHERE queue = $1 AND state = 'waiting'",
          [name],
        );
        return rows[0].ready;
      } finally {
        // A connection that answers nothing does not answer to its end either.
        void client.end().catch(() => {});
      }
    },
    mend: () => mendTimes(pool),
    async check() {
      await pool.query("SELECT 1 FROM bullmq.migration LIMIT 1");
    },
    async clear() {
      for (const queue of queues.values()) await queue.obliterate({ force: true });
    },
    async close() {
      await presence?.leave();
      await Promise.all([...queues.values()].map((queue) => queue.close()));
    },
  };
}

/** BullMQ takes jobs over that were marked by the look before, have an expired lock and are looked for no more than so often. */
function heldJobs(pool: pg.Pool, queue: QueueName): Holding["jobs"] {
  return {
    async listHolders() {
      const { rows } = await pool.query<{ holder: string }>(
        `SELECT DISTINCT split_part(lock_token, ':', 1) AS holder FROM bullmq.job
         WHERE queue = $1 AND state = 'active' AND lock_token IS NOT NULL`,
        [queue],
      );
      return rows.map(({ holder }) => holder);
    },
    async endLocks(holder) {
      await pool.query(
        `UPDATE bullmq.job SET locked_until_ms = 0, stalled_marked = true
         WHERE queue = $1 AND state = 'active' AND split_part(lock_token, ':', 1) = $2`,
        [queue, holder],
      );
      await pool.query("UPDATE bullmq.meta SET value = '0' WHERE queue = $1 AND field = 'stalled-check'", [queue]);
    },
  };
}

const EVENT_LIMIT = { streams: { events: { maxLen: 100 } } };

/**
 * BullMQ's own function for adding a job, for a statement or transaction of ours: rolled back, there is no job; committed, a worker is
 * told at once. The function is not part of BullMQ's documented interface, so its version is pinned and a test holds it.
 */
function adding(jobs: readonly Job[], firstParameter: number): PartOfStatement {
  const options = jobs.map(jobOptions);
  const columns = [
    ["queue", "text", jobs.map((job) => job.queue)],
    ["id", "text", options.map((option) => option.jobId)],
    ["data", "text", jobs.map((job) => JSON.stringify(payloadOf(job)))],
    ["options", "text", options.map((option) => JSON.stringify(option))],
    ["delay", "bigint", jobs.map((job) => job.delayMs ?? 0)],
    ["attempts", "integer", options.map((option) => option.attempts)],
  ] as const;
  const parameters = columns.map(([, type], position) => `$${firstParameter + position}::${type}[]`);
  return {
    sql: `SELECT bullmq.add_job(j.queue, j.id, j.queue, j.data::jsonb, j.options::jsonb, 0, j.delay, ${DATABASE_NOW_MS}, j.attempts,
                                NULL, NULL, NULL, NULL, NULL, false)
          FROM unnest(${parameters.join(", ")}) AS j (${columns.map(([name]) => name).join(", ")})`,
    values: columns.map(([, , values]) => values),
  };
}

async function addJobs(client: Queryable, jobs: readonly Job[]): Promise<void> {
  const { sql, values } = adding(jobs, 1);
  await client.query(sql, [...values]);
}

/** BullMQ's own function again, for those that are there and put off. */
async function bringForward(pool: pg.Pool, jobs: readonly Job[]): Promise<void> {
  await pool.query(
    `SELECT bullmq.promote(b.queue, b.id) FROM unnest($1::text[], $2::text[]) AS j (queue, id)
     JOIN bullmq.job AS b ON b.queue = j.queue AND b.id = j.id AND b.state = 'delayed'`,
    [jobs.map(({ queue }) => queue), jobs.map((job) => jobOptions(job).jobId)],
  );
}

/**
 * What the database's clock left behind when it was set back: a lock that lasts longer than any may, and a look at the locks that
 * was taken in time to come, before which BullMQ takes no other.
 */
async function mendTimes(pool: pg.Pool): Promise<void> {
  await pool.query(
    `UPDATE bullmq.job SET locked_until_ms = ${DATABASE_NOW_MS} + $1::bigint
     WHERE state = 'active' AND locked_until_ms > ${DATABASE_NOW_MS} + $1::bigint + 1000`,
    [LOCK_MS],
  );
  await pool.query(
    `UPDATE bullmq.meta SET value = (${DATABASE_NOW_MS})::text
     WHERE field = 'stalled-check' AND value::bigint > ${DATABASE_NOW_MS} + 1000`,
  );
}
