import type pg from "pg";
import { type AuditEntry, auditHash, CHAIN_START } from "./audit-chain.js";
import type { Queryable } from "./transaction.js";

export type NewAuditEntry = Pick<AuditEntry, "owner" | "actor" | "kind" | "subject" | "details">;

/** Adds to the owner's chain, within the transaction that does what is written down: neither can exist without the other. */
export async function appendAudit(client: Queryable, entry: NewAuditEntry): Promise<void> {
  // Two at once would follow from the same entry. The lock ends with the transaction.
  await client.query("SELECT pg_advisory_xact_lock($1, hashtext($2))", [AUDIT_LOCK, entry.owner]);
  const { rows } = await client.query<{ number: number; hash: string; now: Date }>(
    `SELECT coalesce(max(number), 0)::integer AS number, clock_timestamp() AS now,
            coalesce((SELECT hash FROM heatgate.audit WHERE owner = $1 ORDER BY number DESC LIMIT 1), $2) AS hash
     FROM heatgate.audit WHERE owner = $1`,
    [entry.owner, CHAIN_START],
  );
  const head = rows[0]!;
  const linked = { ...entry, number: head.number + 1, at: head.now.toISOString(), previous: head.hash };
  await client.query(
    `INSERT INTO heatgate.audit (owner, number, at, actor, kind, subject, details, previous, hash)
     VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9)`,
    [
      linked.owner,
      linked.number,
      linked.at,
      linked.actor,
      linked.kind,
      linked.subject,
      JSON.stringify(linked.details),
      linked.previous,
      auditHash(linked),
    ],
  );
}

/** Entries after this number, in the chain's order. */
export async function listAudit(
  pool: pg.Pool,
  owner: string,
  after: number,
  limit: number,
): Promise<readonly AuditEntry[]> {
  const { rows } = await pool.query(
    `SELECT owner, number, at, actor, kind, subject, details, previous, hash FROM heatgate.audit
     WHERE owner = $1 AND number > $2::bigint ORDER BY number LIMIT $3`,
    [owner, after, limit],
  );
  return rows;
}

export async function listAuditOwners(pool: pg.Pool): Promise<readonly string[]> {
  const { rows } = await pool.query("SELECT DISTINCT owner FROM heatgate.audit ORDER BY owner");
  return rows.map(({ owner }) => owner);
}

/** "audi" in ASCII. */
const AUDIT_LOCK = 0x61756469;
