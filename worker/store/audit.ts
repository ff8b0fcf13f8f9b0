import type pg from "pg";
import { type AuditEntry, auditHash, CHAIN_START } from "./audit-chain.js";
import type { Queryable } from "./transaction.js";

export type NewAuditEntry = Pick<AuditEntry, "owner" | "actor" | "kind" | "subject" | "details">;
/** For the chain of an owner who is named beside it. */
export type OwnAuditEntry = Omit<NewAuditEntry, "owner">;

/** Adds to the owner's chain, within the transaction that does what is written down: neither can exist without the other. */
export async function appendAudit(client: Queryable, { owner, ...entry }: NewAuditEntry): Promise<void> {
  await lockAudit(client, owner);
  await appendLocked(client, owner, [entry]);
}

/** Several entries in this order, in one turn at the end of the chain, for a caller that holds `lockAudit`. */
export async function appendLocked(client: Queryable, owner: string, entries: readonly OwnAuditEntry[]): Promise<void> {
  if (entries.length === 0) return;
  const { rows } = await client.query<{ number: number; hash: string; now: Date }>(
    `SELECT coalesce(max(number), 0)::integer AS number, clock_timestamp() AS now,
            coalesce((SELECT hash FROM heatgate.audit WHERE owner = $1 ORDER BY number DESC LIMIT 1), $2) AS hash
     FROM heatgate.audit WHERE owner = $1`,
    [owner, CHAIN_START],
  );
  let { number, hash: previous } = rows[0]!;
  const at = rows[0]!.now.toISOString();
  const linked = entries.map((entry) => {
    const next = { owner, ...entry, number: ++number, at, previous };
    previous = auditHash(next);
    return { ...next, hash: previous };
  });
  await client.query(
    `INSERT INTO heatgate.audit (owner, number, at, actor, kind, subject, details, previous, hash)
     SELECT $1, e.number, e.at, e.actor, e.kind, e.subject, e.details::json, e.previous, e.hash
     FROM unnest($2::integer[], $3::text[], $4::text[], $5::text[], $6::text[], $7::text[], $8::text[], $9::text[])
       AS e (number, at, actor, kind, subject, details, previous, hash)`,
    [
      owner,
      linked.map((entry) => entry.number),
      linked.map((entry) => entry.at),
      linked.map((entry) => entry.actor),
      linked.map((entry) => entry.kind),
      linked.map((entry) => entry.subject),
      linked.map((entry) => JSON.stringify(entry.details)),
      linked.map((entry) => entry.previous),
      linked.map((entry) => entry.hash),
    ],
  );
}

/** Two entries at once would follow from the same one. The lock ends with the transaction. */
export async function lockAudit(client: Queryable, owner: string): Promise<void> {
  await client.query("SELECT pg_advisory_xact_lock($1, hashtext($2))", [AUDIT_LOCK, owner]);
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
