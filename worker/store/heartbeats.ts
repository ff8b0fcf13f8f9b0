import type pg from "pg";
import { appendAudit } from "./audit.js";
import { inTransaction, type Queryable } from "./transaction.js";

/** right: judged as expected. wrong: judged otherwise. late: not judged in time. */
export type HeartbeatOutcome = "right" | "wrong" | "late";

export interface Heartbeat {
  readonly begunAt: Date;
  /** Absent while it is under way, and where whoever began it died. */
  readonly outcome?: HeartbeatOutcome;
  readonly detail?: string;
}

/** Takes the turn if the last heartbeat of any process began at least this long ago. */
export async function beginHeartbeat(pool: pg.Pool, everyMs: number): Promise<boolean> {
  const { rows } = await pool.query<{ left: string | null }>(
    `WITH before AS (SELECT submission FROM heatgate.heartbeat)
     INSERT INTO heatgate.heartbeat AS h (begun_at) VALUES (now())
     ON CONFLICT (one_row) DO UPDATE SET begun_at = now(), submission = NULL
       WHERE h.begun_at <= now() - $1::double precision * interval '1 millisecond'
     RETURNING (SELECT submission FROM before) AS left`,
    [everyMs],
  );
  // A process that died over its heartbeat could not tidy up after itself.
  if (rows[0]?.left) await forget(pool, rows[0].left);
  return rows.length === 1;
}

/** Within the transaction that makes it, so that whoever judges it knows. */
export async function nameHeartbeatSubmission(client: Queryable, submission: string): Promise<void> {
  await client.query("UPDATE heatgate.heartbeat SET submission = $1", [submission]);
}

export async function isHeartbeat(client: Queryable, submission: string): Promise<boolean> {
  const { rowCount } = await client.query("SELECT 1 FROM heatgate.heartbeat WHERE submission = $1", [submission]);
  return rowCount === 1;
}

/**
 * Writes down what came of it, and takes the submission away: it is nobody's. That verdicts are wrong, or no longer, also goes into the
 * audit trail of the installation; that they are right once more would be a hundred thousand entries a year.
 */
export async function endHeartbeat(
  pool: pg.Pool,
  submission: string,
  outcome: HeartbeatOutcome,
  detail?: string,
): Promise<void> {
  await inTransaction(pool, async (client) => {
    const { rows } = await client.query<{ before: HeartbeatOutcome | null }>(
      `UPDATE heatgate.heartbeat AS h SET outcome = $1, detail = $2, submission = NULL
       FROM (SELECT outcome FROM heatgate.heartbeat FOR UPDATE) AS old RETURNING old.outcome AS before`,
      [outcome, detail ?? null],
    );
    const before = rows[0]?.before ?? null;
    if (before === outcome || (outcome !== "wrong" && before !== "wrong")) return;
    const details = { before, outcome, ...(detail !== undefined && { detail }) };
    await appendAudit(client, {
      owner: "",
      actor: "heatgate",
      kind: "heartbeat.changed",
      subject: "heartbeat",
      details,
    });
  });
  await forget(pool, submission);
}

export async function lastHeartbeat(pool: pg.Pool): Promise<Heartbeat | undefined> {
  const { rows } = await pool.query("SELECT begun_at, outcome, detail FROM heatgate.heartbeat");
  if (!rows[0]) return undefined;
  const { begun_at: begunAt, outcome, detail } = rows[0];
  return { begunAt, ...(outcome !== null && { outcome }), ...(detail !== null && { detail }) };
}

async function forget(pool: pg.Pool, submission: string): Promise<void> {
  await pool.query(
    `WITH told AS (DELETE FROM heatgate.event WHERE submission = $1 AND owner IS NULL)
     DELETE FROM heatgate.submission WHERE id = $1 AND owner IS NULL`,
    [submission],
  );
}
