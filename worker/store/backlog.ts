import type pg from "pg";
import type { Job } from "../queue/queue.js";
import type { Backlog } from "./records.js";

/** Jobs for everything that is accepted and not finished, page by page, oldest first. */
export async function* listUnfinishedJobs(pool: pg.Pool, untouchedForMs: number): AsyncGenerator<readonly Job[]> {
  let after = "00000000-0000-0000-0000-000000000000";
  for (;;) {
    const { rows } = await pool.query<{ id: string }>(
      `SELECT id FROM heatgate.submission WHERE state IN ('accepted', 'working') AND id > $2
         AND touched_at <= now() - $1::double precision * interval '1 millisecond'
       ORDER BY id LIMIT $3`,
      [untouchedForMs, after, PAGE],
    );
    if (rows.length > 0) yield rows.map(({ id }) => ({ queue: "judge", subject: id }));
    if (rows.length < PAGE) return;
    after = rows.at(-1)!.id;
  }
}

const PAGE = 500;

/** Jobs for deliveries whose time has come and that nobody has taken up, page by page. */
export async function* listOverdueDeliveryJobs(pool: pg.Pool, overdueByMs: number): AsyncGenerator<readonly Job[]> {
  let after = "";
  for (;;) {
    const { rows } = await pool.query<{ id: string; tries: number }>(
      `SELECT id, tries FROM heatgate.delivery WHERE state = 'pending' AND id > $2
         AND next_attempt_at <= now() - $1::double precision * interval '1 millisecond'
       ORDER BY id LIMIT $3`,
      [overdueByMs, after, PAGE],
    );
    if (rows.length > 0) {
      yield rows.map(({ id, tries }) => ({ queue: "deliver", subject: id, key: `${id}-${tries}` }));
    }
    if (rows.length < PAGE) return;
    after = rows.at(-1)!.id;
  }
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
