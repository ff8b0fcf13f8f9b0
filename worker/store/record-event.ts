import type { Job, WorkQueue } from "../queue/queue.js";
import { currentTraceparent } from "../tracing/span.js";
import type { EventType } from "./event-types.js";
import { newId } from "./new-id.js";
import type { Queryable } from "./transaction.js";

export interface NewEvent {
  readonly owner: string;
  readonly type: EventType;
  readonly submission?: string;
  readonly at: Date;
  readonly data: Readonly<Record<string, unknown>>;
  /** What a full body says besides, where it is not the submission's report. */
  readonly content?: Readonly<Record<string, unknown>>;
  /** The submission's own receiver; its secret is sealed. */
  readonly callback?: { readonly url: string; readonly secret: string };
  /** Only for this endpoint, whatever it chose to hear of. */
  readonly endpoint?: string;
}

/**
 * Readers of the feed go by sequence. Without this lock, which ends with the transaction, a lower number could appear after a higher one
 * was read. It is taken before that of the audit trail, by everybody.
 */
export async function lockEventOrder(client: Queryable): Promise<void> {
  await client.query("SELECT pg_advisory_xact_lock($1)", [EVENT_ORDER_LOCK]);
}

/**
 * Writes down an event and its delivery to everybody who wants to hear of it, within the transaction that made it happen; before,
 * `lockEventOrder`. The jobs are for `addAfter`, once it is committed.
 */
export async function recordEvent(
  client: Queryable,
  queue: Pick<WorkQueue, "addWithin">,
  event: NewEvent,
): Promise<{ readonly id: string; readonly jobs: readonly Job[] }> {
  const id = `evt_${newId()}`;
  const { owner, type, at, data, content } = event;
  // The body says the number that the row gets.
  await client.query(
    `WITH next AS (SELECT nextval(pg_get_serial_sequence('heatgate.event', 'sequence')) AS sequence)
     INSERT INTO heatgate.event (id, submission, owner, type, body, content, traceparent, sequence)
     OVERRIDING SYSTEM VALUE
     SELECT $1, $2, $3, $4, $5 || sequence || $6, $7, $8, sequence FROM next`,
    [
      id,
      event.submission ?? null,
      owner === "" ? null : owner,
      type,
      `{"type":${JSON.stringify(type)},"sequence":`,
      `,"timestamp":${JSON.stringify(at)},"data":${JSON.stringify(data)}}`,
      content ? JSON.stringify(content) : null,
      currentTraceparent() ?? null,
    ],
  );
  if (event.callback) {
    await client.query(
      "INSERT INTO heatgate.delivery (id, event, url, secret, next_attempt_at) VALUES ($1, $1, $2, $3, now())",
      [id, event.callback.url, event.callback.secret],
    );
  }
  const { rows } = await client.query<{ id: string }>(
    `INSERT INTO heatgate.delivery (id, event, endpoint, next_attempt_at)
     SELECT $1 || '.' || p.id, $1, p.id, now() FROM heatgate.endpoint AS p
     WHERE p.owner = $2 AND p.state = 'active'
       AND CASE WHEN $4::uuid IS NULL THEN p.events IS NULL OR $3 = ANY (p.events) ELSE p.id = $4 END
     RETURNING id`,
    [id, owner, type, event.endpoint ?? null],
  );
  const deliveries = [...(event.callback ? [id] : []), ...rows.map((row) => row.id)];
  const jobs = deliveries.map((delivery) => ({ queue: "deliver", subject: delivery, key: `${delivery}-0` }) as const);
  for (const job of jobs) await queue.addWithin(client, job);
  return { id, jobs };
}

/** After the commit. What a queue does not take now, the sweep brings to it. */
export async function tellQueue(queue: WorkQueue, jobs: readonly Job[]): Promise<void> {
  for (const job of jobs) await queue.addAfter(job).catch(() => {});
}

/** "even" in ASCII. */
const EVENT_ORDER_LOCK = 0x6576656e;
