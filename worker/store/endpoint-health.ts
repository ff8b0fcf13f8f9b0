import type { Job, WorkQueue } from "../queue/queue.js";
import { appendAudit } from "./audit.js";
import type { DisabledBecause } from "./endpoints.js";
import { lockEventOrder, recordEvent } from "./record-event.js";
import type { Queryable } from "./transaction.js";

/**
 * Notes how a try at an endpoint went. One that has taken nothing for too long, or says that it is gone, is disabled; its owner hears of
 * it from the feed, the audit trail and the owner's other endpoints. Called before the delivery's own row is changed, in the order in
 * which disabling locks the two.
 */
export async function noteTry(
  client: Queryable,
  queue: WorkQueue,
  endpoint: string,
  went: "delivered" | "not-delivered" | "gone",
  disableAfterMs: number,
): Promise<readonly Job[]> {
  // By the database's clock: a worker whose own is ahead would disable what fails for the first time.
  const { rows } = await client.query<{ isFailing: boolean; isTooLong: boolean }>(
    `UPDATE heatgate.endpoint SET failing_since = CASE WHEN $2 THEN NULL ELSE coalesce(failing_since, now()) END
     WHERE id = $1 AND state = 'active'
     RETURNING failing_since IS NOT NULL AS "isFailing",
               coalesce(now() - failing_since >= $3::double precision * interval '1 millisecond', false) AS "isTooLong"`,
    [endpoint, went === "delivered", disableAfterMs],
  );
  if (!rows[0]?.isFailing) return [];
  if (went === "gone") return await disableEndpoint(client, queue, endpoint, "gone", "heatgate");
  return rows[0].isTooLong ? await disableEndpoint(client, queue, endpoint, "failing", "heatgate") : [];
}

/** What was still to be delivered there is given up; asking for a replay brings it back. */
export async function disableEndpoint(
  client: Queryable,
  queue: Pick<WorkQueue, "addWithin">,
  endpoint: string,
  because: DisabledBecause,
  by: string,
): Promise<readonly Job[]> {
  const { rows } = await client.query<{ owner: string; url: string; failing_since: Date | null; disabled_at: Date }>(
    `UPDATE heatgate.endpoint SET state = 'disabled', disabled_at = now(), disabled_because = $2
     WHERE id = $1 AND state = 'active' RETURNING owner, url, failing_since, disabled_at`,
    [endpoint, because],
  );
  if (!rows[0]) return [];
  const { owner, url, failing_since: since, disabled_at: at } = rows[0];
  await client.query("UPDATE heatgate.delivery SET state = 'disabled' WHERE endpoint = $1 AND state = 'pending'", [
    endpoint,
  ]);
  const failingSince = because === "failing" && since ? { failingSince: since.toISOString() } : {};
  // The path and query of an address may hold its owner's tokens.
  const details = { receiver: new URL(url).origin, because, ...failingSince };
  await lockEventOrder(client);
  const data = { endpoint, ...details };
  const { jobs } = await recordEvent(client, queue, { owner, type: "endpoint.disabled", at, data });
  await appendAudit(client, { owner, actor: by, kind: "endpoint.disabled", subject: endpoint, details });
  return jobs;
}
