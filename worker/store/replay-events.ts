import type { Job } from "../queue/queue.js";
import type { Replayed } from "./endpoints.js";
import type { Queryable } from "./transaction.js";

/** Events that one call looks at. */
const EVENTS_AT_ONCE = 5_000;

/**
 * Makes the endpoint's deliveries since a time pending again, and makes those that it never had: it may have been registered later, or
 * was disabled then. Ids stay, so a receiver knows what it has. What is under way already is left alone.
 */
export async function replayEvents(
  client: Queryable,
  endpoint: string,
  since: Date,
  onlyUndelivered: boolean,
): Promise<{ readonly replayed: Replayed; readonly jobs: readonly Job[] }> {
  const { rows: events } = await client.query<{ id: string; created_at: Date }>(
    `SELECT e.id, e.created_at FROM heatgate.event AS e JOIN heatgate.endpoint AS p ON p.owner = e.owner
     WHERE p.id = $1 AND e.created_at >= $2 AND e.type <> 'endpoint.test' AND (p.events IS NULL OR e.type = ANY (p.events))
     ORDER BY e.created_at, e.sequence LIMIT $3
     -- None of them is removed until its delivery is there.
     FOR KEY SHARE OF e`,
    [endpoint, since, EVENTS_AT_ONCE + 1],
  );
  const asked = events.slice(0, EVENTS_AT_ONCE).map(({ id }) => id);
  const { rows } = await client.query<{ id: string }>(
    `INSERT INTO heatgate.delivery AS d (id, event, endpoint, next_attempt_at)
     SELECT e.id || '.' || $1::uuid, e.id, $1::uuid, now() FROM unnest($2::text[]) AS e (id) ORDER BY e.id
     ON CONFLICT (id) DO UPDATE SET state = 'pending', tries = 0, next_attempt_at = now()
       WHERE d.state <> 'pending' AND NOT ($3 AND d.state = 'delivered')
     RETURNING d.id`,
    [endpoint, asked, onlyUndelivered],
  );
  const next = events[EVENTS_AT_ONCE];
  return {
    replayed: { deliveries: rows.length, ...(next && { continueSince: next.created_at }) },
    jobs: rows.map(({ id }) => ({ queue: "deliver", subject: id, key: `${id}-again-${Date.now()}` })),
  };
}
