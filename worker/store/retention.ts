import type pg from "pg";
import { appendLocked, lockAudit, type OwnAuditEntry } from "./audit.js";
import { eraseFamily, lockDeliveries, lockFamily } from "./erase-submission.js";
import { markBytesErased } from "./erased-bytes.js";
import { inTransaction, type Queryable } from "./transaction.js";

/** Who erases where nobody asked for it. */
const BY = "heatgate";

/**
 * Each of these takes away what ended more than `days` days ago, at most `limit` of it, oldest first, and tells how much it was. Several
 * processes may run them at once: what one has in hands the others pass over.
 */
export type Remove = (pool: pg.Pool, days: number, limit: number) => Promise<number>;

/** What `limit` counts is what was found due; another process may have been quicker with some. */
export const eraseOldSubmissions: Remove = async (pool, days, limit) => {
  const { rows } = await pool.query<{ id: string }>(
    `SELECT s.id FROM heatgate.submission AS s
     WHERE s.finished_at < ${ago("$1")} AND s.correction_of IS NULL AND s.owner IS NOT NULL AND ${isSettled("s.id", "$1")}
     ORDER BY s.finished_at LIMIT $2`,
    [days, limit],
  );
  let erased = 0;
  for (const { id } of rows) if (await eraseOld(pool, id, days)) erased++;
  return erased;
};

/** Nothing of it or of its corrections may be unfinished, younger, or still to be told. */
function isSettled(submission: string, days: string): string {
  return `NOT EXISTS (
      SELECT 1 FROM heatgate.submission AS c
      WHERE c.correction_of = ${submission} AND coalesce(c.finished_at >= ${ago(days)}, true))
    AND NOT EXISTS (
      SELECT 1 FROM heatgate.submission AS f
      JOIN heatgate.trial AS t ON t.submission = f.id
      WHERE (f.id = ${submission} OR f.correction_of = ${submission}) AND t.state = 'accepted')
    AND NOT EXISTS (
      SELECT 1 FROM heatgate.submission AS f
      JOIN heatgate.event AS e ON e.submission = f.id JOIN heatgate.delivery AS d ON d.event = e.id
      WHERE (f.id = ${submission} OR f.correction_of = ${submission}) AND d.state = 'pending')`;
}

async function eraseOld(pool: pg.Pool, id: string, days: number): Promise<boolean> {
  return await inTransaction(pool, async (client) => {
    const family = await lockFamily(client, id, { skipLocked: true });
    if (family.length === 0) return false;
    await lockDeliveries(client, family);
    // Asked again now that nobody can add to it: a correction or a question may have come in between.
    const { rows } = await client.query<{ is_settled: boolean }>(
      `SELECT s.finished_at < ${ago("$2")} AND ${isSettled("s.id", "$2")} AS is_settled
       FROM heatgate.submission AS s WHERE s.id = $1`,
      [id, days],
    );
    if (!rows[0]?.is_settled) return false;
    await eraseFamily(client, family, { person: BY, reason: reasonOf("Submissions", days) });
    return true;
  });
}

function reasonOf(what: string, days: number): string {
  return `${what} are kept for ${days} days after they were finished.`;
}

/** The bytes alone: submission and report stay. */
export const eraseOldDocuments: Remove = async (pool, days, limit) =>
  await inTransaction(pool, async (client) => {
    const { rows } = await client.query<{ id: string; owner: string }>(
      `UPDATE heatgate.submission AS s SET documents_erased_at = now()
       FROM (SELECT id FROM heatgate.submission
             WHERE finished_at < ${ago("$1")} AND documents_erased_at IS NULL AND owner IS NOT NULL
             ORDER BY finished_at LIMIT $2 FOR UPDATE SKIP LOCKED) AS due
       WHERE s.id = due.id RETURNING s.id, s.owner`,
      [days, limit],
    );
    const { rows: documents } = await client.query<{ submission: string; sha256: string }>(
      "SELECT submission, sha256 FROM heatgate.document WHERE submission = ANY ($1) ORDER BY submission, position",
      [rows.map(({ id }) => id)],
    );
    await markBytesErased(client, [...new Set(documents.map(({ sha256 }) => sha256))]);
    const entryOf = (id: string): OwnAuditEntry => {
      const own = documents.filter(({ submission }) => submission === id).map(({ sha256 }) => sha256);
      const details = { documents: [...new Set(own)], reason: reasonOf("Documents", days) };
      return { actor: BY, kind: "documents.erased", subject: id, details };
    };
    // In the order of owners, in which everybody locks several chains.
    for (const owner of [...new Set(rows.map((row) => row.owner))].sort()) {
      await lockAudit(client, owner);
      await appendLocked(
        client,
        owner,
        rows.filter((row) => row.owner === owner).map(({ id }) => entryOf(id)),
      );
    }
    return rows.length;
  });

/** Events with their deliveries and tries, unless one is still to be delivered. */
export const removeOldEvents: Remove = async (pool, days, limit) =>
  await inTransaction(pool, async (client) => {
    const { rows: due } = await client.query<{ id: string }>(
      `SELECT e.id FROM heatgate.event AS e
       WHERE e.created_at < ${ago("$1")}
         AND NOT EXISTS (SELECT 1 FROM heatgate.delivery AS d WHERE d.event = e.id AND d.state = 'pending')
       ORDER BY e.created_at LIMIT $2 FOR UPDATE OF e SKIP LOCKED`,
      [days, limit],
    );
    const { rows: deliveries } = await client.query<{ event: string; state: string }>(
      "SELECT event, state FROM heatgate.delivery WHERE event = ANY ($1) ORDER BY id FOR UPDATE",
      [due.map(({ id }) => id)],
    );
    // Somebody asked for it to be sent again in between.
    const pending = new Set(deliveries.filter(({ state }) => state === "pending").map(({ event }) => event));
    const { rows } = await client.query<{ owner: string | null; sequence: string }>(
      "DELETE FROM heatgate.event WHERE id = ANY ($1) RETURNING owner, sequence::text",
      [due.map(({ id }) => id).filter((id) => !pending.has(id))],
    );
    await client.query(
      `INSERT INTO heatgate.event_horizon AS h (owner, sequence)
       SELECT gone.owner, max(gone.sequence) FROM unnest($1::text[], $2::bigint[]) AS gone (owner, sequence)
       GROUP BY gone.owner ORDER BY gone.owner
       ON CONFLICT (owner) DO UPDATE SET sequence = greatest(h.sequence, excluded.sequence)`,
      [rows.map(({ owner }) => owner ?? ""), rows.map(({ sequence }) => sequence)],
    );
    return rows.length;
  });

/** They are asked for within a day at most; what is older is of no use to anybody. */
export const removeOldIdempotencyKeys: Remove = (pool, days, limit) =>
  removeRows(
    pool,
    `DELETE FROM heatgate.idempotency_key AS k USING (
       SELECT owner, key FROM heatgate.idempotency_key WHERE created_at < ${ago("$1")}
       ORDER BY created_at LIMIT $2 FOR UPDATE SKIP LOCKED) AS due
     WHERE k.owner = due.owner AND k.key = due.key`,
    [days, limit],
  );

export const removeOldDryRuns: Remove = (pool, days, limit) => removeTrials(pool, "dry-run", days, limit);
/** Asked for again they are worked out again. */
export const removeOldGradesMet: Remove = (pool, days, limit) => removeTrials(pool, "grades", days, limit);

function removeTrials(pool: pg.Pool, kind: string, days: number, limit: number): Promise<number> {
  return removeRows(
    pool,
    `DELETE FROM heatgate.trial AS t USING (
       SELECT id FROM heatgate.trial WHERE created_at < ${ago("$1")} AND kind = $3 AND state <> 'accepted'
       ORDER BY created_at LIMIT $2 FOR UPDATE SKIP LOCKED) AS due
     WHERE t.id = due.id`,
    [days, limit, kind],
  );
}

async function removeRows(client: Queryable, sql: string, values: readonly unknown[]): Promise<number> {
  const { rowCount } = await client.query(sql, [...values]);
  return rowCount ?? 0;
}

function ago(days: string): string {
  return `now() - ${days}::double precision * interval '1 day'`;
}

export async function eventHorizon(pool: pg.Pool, owner: string | undefined): Promise<number> {
  const { rows } = await pool.query<{ sequence: number | null }>(
    "SELECT max(sequence)::double precision AS sequence FROM heatgate.event_horizon WHERE $1::text IS NULL OR owner = $1",
    [owner ?? null],
  );
  return rows[0]?.sequence ?? 0;
}
