import type pg from "pg";
import type { Job } from "../queue/queue.js";
import { LEFT_BY_A_CLOCK_SET_BACK } from "./due-delivery.js";
import { BEFORE_ALL_IDS } from "./new-id.js";
import type { Backlog } from "./records.js";

/** Jobs for everything that is accepted and not finished, page by page, oldest first. */
export async function* listUnfinishedJobs(pool: pg.Pool, untouchedForMs: number): AsyncGenerator<readonly Job[]> {
  let after = BEFORE_ALL_IDS;
  for (;;) {
    const { rows } = await pool.query<{ id: string; traceparent: string | null }>(
      `SELECT id, traceparent FROM heatgate.submission WHERE state IN ('accepted', 'working') AND id > $2
         -- Touched in time to come: before the database's clock was set back.
         AND (touched_at <= now() - $1::double precision * interval '1 millisecond' OR touched_at > now() + interval '1 minute')
       ORDER BY id LIMIT $3`,
      [untouchedForMs, after, PAGE],
    );
    if (rows.length > 0) yield rows.map(({ id, ...row }) => ({ queue: "judge", subject: id, ...inItsTrace(row) }));
    if (rows.length < PAGE) return;
    after = rows.at(-1)!.id;
  }
}

const PAGE = 500;

/** Jobs for deliveries whose time has come and that nobody has taken up, page by page. */
export async function* listOverdueDeliveryJobs(pool: pg.Pool, overdueByMs: number): AsyncGenerator<readonly Job[]> {
  let after = "";
  for (;;) {
    const { rows } = await pool.query<{ id: string; tries: number; traceparent: string | null }>(
      `SELECT d.id, d.tries, (SELECT e.traceparent FROM heatgate.event AS e WHERE e.id = d.event)
       FROM heatgate.delivery AS d WHERE d.state = 'pending' AND d.id > $2
         AND (d.next_attempt_at <= now() - $1::double precision * interval '1 millisecond' OR ${LEFT_BY_A_CLOCK_SET_BACK})
       ORDER BY d.id LIMIT $3`,
      [overdueByMs, after, PAGE],
    );
    if (rows.length > 0) {
      yield rows.map(({ id, tries, ...row }) => {
        // A key of its own: the job that it stands in for may be there, and wait for an hour that never was because a clock jumped.
        return { queue: "deliver", subject: id, key: `${id}-${tries}-late`, ...inItsTrace(row) };
      });
    }
    if (rows.length < PAGE) return;
    after = rows.at(-1)!.id;
  }
}

function inItsTrace({ traceparent }: { readonly traceparent: string | null }): { readonly traceparent?: string } {
  return traceparent === null ? {} : { traceparent };
}

export async function countBacklog(pool: pg.Pool): Promise<Backlog> {
  const { rows } = await pool.query(
    `SELECT count(*) FILTER (WHERE state = 'accepted')::integer AS accepted,
            count(*) FILTER (WHERE state = 'working')::integer AS working,
            coalesce(extract(epoch FROM now() - min(created_at)), 0)::double precision AS "oldestPendingSeconds",
            (SELECT count(*)::integer FROM heatgate.delivery WHERE state = 'pending') AS "deliveriesPending"
     FROM heatgate.submission WHERE state IN ('accepted', 'working')`,
  );
  return rows[0];
}
