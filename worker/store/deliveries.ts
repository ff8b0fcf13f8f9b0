import type pg from "pg";
import type { WorkQueue } from "../queue/queue.js";
import type { DueDelivery } from "./due-delivery.js";
import { noteTry } from "./endpoint-health.js";
import { isId } from "./new-id.js";
import { tellQueue } from "./record-event.js";
import {
  type DeliveryAttempt,
  type DeliveryRecord,
  type DeliveryState,
  type EventRecord,
  type OwnerAsked,
  ownerParameter,
} from "./records.js";
import { inTransaction, type Queryable } from "./transaction.js";

export type AttemptOutcome =
  | { readonly state: "delivered" | "failed" | "disabled" }
  | { readonly state: "pending"; readonly retryAfterMs: number };

export interface AttemptDeps {
  readonly pool: pg.Pool;
  readonly queue: WorkQueue;
  /** So long may an endpoint take nothing before it is disabled. */
  readonly disableAfterMs: number;
}

/** Writes down a try, what became of the delivery and of the endpoint, and the next job, in one transaction. */
export async function recordAttempt(
  { pool, queue, disableAfterMs }: AttemptDeps,
  due: DueDelivery,
  attempt: Omit<DeliveryAttempt, "attempt">,
  outcome: AttemptOutcome,
): Promise<void> {
  const delayMs = outcome.state === "pending" ? outcome.retryAfterMs : undefined;
  const job = { queue: "deliver", subject: due.id, key: `${due.id}-${due.tries + 1}`, delayMs: delayMs ?? 0 } as const;
  const jobs = await inTransaction(pool, async (client) => {
    const { endpoint } = due;
    // Nothing was sent to a disabled one, so nothing was learned of it.
    const told =
      endpoint === undefined || due.isDisabled
        ? []
        : await noteTry(client, queue, endpoint, wentOf(outcome), disableAfterMs);
    await insertAttempt(client, due.id, attempt);
    const { rowCount: isPending } = await client.query(
      `UPDATE heatgate.delivery
       SET state = $2, tries = $3, next_attempt_at = now() + $4::double precision * interval '1 millisecond'
       -- Disabled meanwhile, by this try or by its owner, it is not tried again.
       WHERE id = $1 AND ($2 <> 'pending' OR state = 'pending')`,
      [due.id, outcome.state, due.tries + 1, delayMs ?? null],
    );
    if (endpoint === undefined && outcome.state === "disabled") {
      await client.query(
        `INSERT INTO heatgate.disabled_callback (owner, url)
         SELECT coalesce(owner, ''), $2 FROM heatgate.event WHERE id = $1 ON CONFLICT DO NOTHING`,
        [due.event, due.url],
      );
    }
    if (outcome.state !== "pending" || !isPending) return told;
    await queue.addWithin(client, job);
    return [...told, job];
  });
  await tellQueue(queue, jobs);
}

function wentOf({ state }: AttemptOutcome): "delivered" | "not-delivered" | "gone" {
  if (state === "delivered") return "delivered";
  return state === "disabled" ? "gone" : "not-delivered";
}

async function insertAttempt(client: Queryable, delivery: string, attempt: Omit<DeliveryAttempt, "attempt">) {
  await client.query(
    `INSERT INTO heatgate.delivery_attempt
       (delivery, attempt, started_at, duration_ms, status, address, problem, detail, answer)
     SELECT $1, coalesce(max(a.attempt), 0) + 1, $2, $3, $4, $5, $6, $7, $8
     FROM heatgate.delivery AS d LEFT JOIN heatgate.delivery_attempt AS a ON a.delivery = d.id
     WHERE d.id = $1 GROUP BY d.id
     -- Written down before, by a transaction whose answer was lost.
     HAVING NOT coalesce(bool_or(a.started_at = $2), false)`,
    [
      delivery,
      attempt.startedAt,
      attempt.durationMs,
      attempt.status ?? null,
      attempt.address ?? null,
      attempt.problem ?? null,
      attempt.detail ?? null,
      attempt.answer ?? null,
    ],
  );
}

export async function redeliver(
  pool: pg.Pool,
  queue: WorkQueue,
  submission: string,
  owner: OwnerAsked,
): Promise<boolean> {
  if (!isId(submission)) return false;
  const jobs = await inTransaction(pool, async (client) => {
    const { rows } = await client.query<{ id: string; owner: string; url: string | null }>(
      `WITH asked AS (
         SELECT d.id, coalesce(e.owner, '') AS owner FROM heatgate.delivery AS d JOIN heatgate.event AS e ON e.id = d.event
         LEFT JOIN heatgate.endpoint AS p ON p.id = d.endpoint
         WHERE e.submission = $1 AND ($2::text IS NULL OR e.owner = $2) AND (p.id IS NULL OR p.state = 'active') ORDER BY d.id FOR UPDATE OF d)
       UPDATE heatgate.delivery AS d SET state = 'pending', tries = 0, next_attempt_at = now()
       FROM asked WHERE d.id = asked.id RETURNING d.id, asked.owner, d.url`,
      [submission, ownerParameter(owner)],
    );
    // Whoever asks for it says that the receiver is there again.
    for (const { owner, url } of rows) {
      if (url === null) continue;
      await client.query("DELETE FROM heatgate.disabled_callback WHERE owner = $1 AND url = $2", [owner, url]);
    }
    const again = rows.map(({ id }) => ({ queue: "deliver", subject: id, key: `${id}-again-${Date.now()}` }) as const);
    for (const job of again) await queue.addWithin(client, job);
    return again;
  });
  await tellQueue(queue, jobs);
  return jobs.length > 0;
}

export async function listDeliveries(
  pool: pg.Pool,
  submission: string,
  owner: OwnerAsked,
): Promise<readonly DeliveryRecord[]> {
  if (!isId(submission)) return [];
  const { rows } = await pool.query<DeliveryRow>(
    `SELECT ${DELIVERY_COLUMNS} FROM ${DELIVERIES} WHERE e.submission = $1 AND ($2::text IS NULL OR e.owner = $2)
     ORDER BY e.sequence, d.id`,
    [submission, ownerParameter(owner)],
  );
  return await withAttempts(pool, rows);
}

/** Newest event first. */
export async function listEndpointDeliveries(
  pool: pg.Pool,
  owner: string,
  endpoint: string,
  before: number | undefined,
  limit: number,
): Promise<readonly (DeliveryRecord & { readonly sequence: number })[]> {
  const { rows } = await pool.query<DeliveryRow>(
    `SELECT ${DELIVERY_COLUMNS} FROM ${DELIVERIES} WHERE e.owner = $1 AND d.endpoint = $2 AND ($3::bigint IS NULL OR e.sequence < $3)
     ORDER BY e.sequence DESC LIMIT $4`,
    [owner, endpoint, before ?? null, limit],
  );
  const deliveries = await withAttempts(pool, rows);
  return deliveries.map((delivery, at) => ({ ...delivery, sequence: rows[at]!.sequence }));
}

export async function listEvents(
  pool: pg.Pool,
  owner: string | undefined,
  after: number,
  limit: number,
): Promise<readonly EventRecord[]> {
  const { rows } = await pool.query(
    // Ordered by the column: its namesake in the answer is of another type, and in no index.
    `SELECT e.id, e.sequence::double precision AS sequence, e.type, e.submission, e.created_at AS "createdAt", e.body
     FROM heatgate.event AS e WHERE e.sequence > $2 AND ($1::text IS NULL OR e.owner = $1) ORDER BY e.sequence LIMIT $3`,
    [owner ?? null, after, limit],
  );
  return rows.map(withoutNulls) as unknown as EventRecord[];
}

const DELIVERY_COLUMNS = `d.id, d.event, e.submission, d.endpoint, coalesce(d.url, p.url) AS url, d.state, d.next_attempt_at,
  e.sequence::double precision AS sequence`;
const DELIVERIES = `heatgate.delivery AS d JOIN heatgate.event AS e ON e.id = d.event
  LEFT JOIN heatgate.endpoint AS p ON p.id = d.endpoint`;

interface DeliveryRow {
  readonly id: string;
  readonly event: string;
  readonly submission: string | null;
  readonly endpoint: string | null;
  readonly url: string;
  readonly state: DeliveryState;
  readonly next_attempt_at: Date | null;
  readonly sequence: number;
}

async function withAttempts(pool: pg.Pool, rows: readonly DeliveryRow[]): Promise<readonly DeliveryRecord[]> {
  const { rows: attempts } = await pool.query<DeliveryAttempt & { delivery: string }>(
    `SELECT delivery, attempt, started_at AS "startedAt", duration_ms AS "durationMs", status, address, problem, detail, answer
     FROM heatgate.delivery_attempt WHERE delivery = ANY ($1) ORDER BY attempt`,
    [rows.map(({ id }) => id)],
  );
  return rows.map(({ id, event, submission, endpoint, url, state, next_attempt_at: nextAttemptAt }) => ({
    id,
    event,
    ...(submission !== null && { submission }),
    ...(endpoint !== null && { endpoint }),
    url: endpoint === null ? url : new URL(url).origin,
    state,
    ...(state === "pending" && nextAttemptAt && { nextAttemptAt }),
    attempts: attempts
      .filter(({ delivery }) => delivery === id)
      .map(({ delivery: _, ...attempt }) => withoutNulls(attempt) as unknown as DeliveryAttempt),
  }));
}

function withoutNulls(row: object): Record<string, unknown> {
  return Object.fromEntries(Object.entries(row).filter(([, value]) => value !== null));
}
