import type pg from "pg";
import type { WorkQueue } from "../queue/queue.js";
import { isId } from "./new-id.js";
import type { DeliveryAttempt, DeliveryRecord, DeliveryState, EventRecord } from "./records.js";
import { inTransaction } from "./transaction.js";

/** What one try needs to know. */
export interface DueDelivery {
  readonly event: string;
  readonly submission: string;
  readonly url: string;
  readonly secret: string;
  readonly body: string;
  /** Tries that were made before this one, since the event or since it was asked for again. */
  readonly tries: number;
}

export type AttemptOutcome =
  | { readonly state: "delivered" | "failed" | "disabled" }
  | { readonly state: "pending"; readonly retryAfterMs: number };

/**
 * Takes the delivery for one try, or nothing when it is over or another time's. The claim runs out by itself, so a sender
 * that dies in the middle, or cannot write down what happened, costs a delay and not the delivery.
 */
export async function claimDelivery(pool: pg.Pool, event: string): Promise<Claim> {
  const { rows } = await pool.query(
    `UPDATE heatgate.delivery AS d SET next_attempt_at = now() + ${CLAIM_LIFETIME}
     FROM heatgate.event AS e
     WHERE d.event = $1 AND e.id = d.event AND d.state = 'pending' AND d.next_attempt_at <= now() + interval '1 second'
     RETURNING d.event, e.submission, d.url, d.secret, e.body, d.tries`,
    [event],
  );
  if (rows[0]) return { due: rows[0] };
  const { rows: claimed } = await pool.query(
    `SELECT extract(epoch FROM next_attempt_at - now())::double precision * 1000 AS "heldMs" FROM heatgate.delivery
     WHERE event = $1 AND state = 'pending' AND next_attempt_at <= now() + ${CLAIM_LIFETIME}`,
    [event],
  );
  return claimed[0] ?? {};
}

/** `heldMs`: somebody has it in hands, or had when they died; come back after this time. */
export interface Claim {
  readonly due?: DueDelivery;
  readonly heldMs?: number;
}

/** Longer than a try may take. */
const CLAIM_LIFETIME = "interval '30 seconds'";

export async function releaseDelivery(pool: pg.Pool, event: string): Promise<void> {
  await pool.query("UPDATE heatgate.delivery SET next_attempt_at = now() WHERE event = $1 AND state = 'pending'", [
    event,
  ]);
}

export async function isReceiverDisabled(pool: pg.Pool, url: string): Promise<boolean> {
  const { rowCount } = await pool.query("SELECT 1 FROM heatgate.disabled_receiver WHERE url = $1", [url]);
  return rowCount === 1;
}

/** Writes down a try, what became of the delivery, and its next job, in one transaction. */
export async function recordAttempt(
  pool: pg.Pool,
  queue: WorkQueue,
  due: DueDelivery,
  attempt: Omit<DeliveryAttempt, "attempt">,
  outcome: AttemptOutcome,
): Promise<void> {
  const delayMs = outcome.state === "pending" ? outcome.retryAfterMs : undefined;
  const job = {
    queue: "deliver",
    subject: due.event,
    key: `${due.event}-${due.tries + 1}`,
    delayMs: delayMs ?? 0,
  } as const;
  await inTransaction(pool, async (client) => {
    await client.query(
      `INSERT INTO heatgate.delivery_attempt
         (event, attempt, started_at, duration_ms, status, address, problem, detail, answer)
       SELECT $1, coalesce(max(attempt), 0) + 1, $2, $3, $4, $5, $6, $7, $8
       FROM heatgate.delivery_attempt WHERE event = $1
       -- Written down before, by a transaction whose answer was lost.
       HAVING NOT coalesce(bool_or(started_at = $2), false)`,
      [
        due.event,
        attempt.startedAt,
        attempt.durationMs,
        attempt.status ?? null,
        attempt.address ?? null,
        attempt.problem ?? null,
        attempt.detail ?? null,
        attempt.answer ?? null,
      ],
    );
    await client.query(
      `UPDATE heatgate.delivery
       SET state = $2, tries = $3, next_attempt_at = now() + $4::double precision * interval '1 millisecond'
       WHERE event = $1`,
      [due.event, outcome.state, due.tries + 1, delayMs ?? null],
    );
    if (outcome.state === "disabled") {
      await client.query("INSERT INTO heatgate.disabled_receiver (url) VALUES ($1) ON CONFLICT DO NOTHING", [due.url]);
    }
    if (outcome.state === "pending") await queue.addWithin(client, job);
  });
  if (outcome.state === "pending") await queue.addAfter(job).catch(() => {});
}

export async function redeliver(pool: pg.Pool, queue: WorkQueue, submission: string): Promise<boolean> {
  if (!isId(submission)) return false;
  const job = await inTransaction(pool, async (client) => {
    const { rows } = await client.query<{ event: string; url: string }>(
      `UPDATE heatgate.delivery AS d SET state = 'pending', tries = 0, next_attempt_at = now()
       FROM heatgate.event AS e WHERE e.id = d.event AND e.submission = $1 RETURNING d.event, d.url`,
      [submission],
    );
    if (!rows[0]) return undefined;
    // Whoever asks for it says that the receiver is there again.
    await client.query("DELETE FROM heatgate.disabled_receiver WHERE url = $1", [rows[0].url]);
    const again = { queue: "deliver", subject: rows[0].event, key: `${rows[0].event}-again-${Date.now()}` } as const;
    await queue.addWithin(client, again);
    return again;
  });
  if (job) await queue.addAfter(job).catch(() => {});
  return job !== undefined;
}

export async function listDeliveries(pool: pg.Pool, submission: string): Promise<readonly DeliveryRecord[]> {
  if (!isId(submission)) return [];
  const { rows } = await pool.query<DeliveryRow>(
    `SELECT d.event, e.submission, d.url, d.state, d.next_attempt_at FROM heatgate.delivery AS d
     JOIN heatgate.event AS e ON e.id = d.event WHERE e.submission = $1`,
    [submission],
  );
  return Promise.all(
    rows.map(async (row) => ({
      event: row.event,
      submission: row.submission,
      url: row.url,
      state: row.state,
      ...(row.state === "pending" && row.next_attempt_at && { nextAttemptAt: row.next_attempt_at }),
      attempts: await listAttempts(pool, row.event),
    })),
  );
}

export async function listEvents(
  pool: pg.Pool,
  owner: string | undefined,
  after: number,
  limit: number,
): Promise<readonly EventRecord[]> {
  const { rows } = await pool.query(
    `SELECT id, sequence::double precision AS sequence, type, submission, created_at AS "createdAt", body
     FROM heatgate.event WHERE sequence > $2 AND ($1::text IS NULL OR owner = $1) ORDER BY sequence LIMIT $3`,
    [owner ?? null, after, limit],
  );
  return rows;
}

interface DeliveryRow {
  readonly event: string;
  readonly submission: string;
  readonly url: string;
  readonly state: DeliveryState;
  readonly next_attempt_at: Date | null;
}

async function listAttempts(pool: pg.Pool, event: string): Promise<readonly DeliveryAttempt[]> {
  const { rows } = await pool.query(
    `SELECT attempt, started_at AS "startedAt", duration_ms AS "durationMs", status, address, problem, detail, answer
     FROM heatgate.delivery_attempt WHERE event = $1 ORDER BY attempt`,
    [event],
  );
  return rows.map(
    (row) =>
      Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null)) as unknown as DeliveryAttempt,
  );
}
