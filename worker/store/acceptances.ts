import type pg from "pg";
import { appendLocked, lockAudit, type OwnAuditEntry } from "./audit.js";
import type { NewSubmission } from "./records.js";
import { digestOf } from "./requirement-digest.js";
import { inTransaction, type Queryable } from "./transaction.js";

/** What the audit trail will say of the acceptance: documents and requirement by their digests. */
export function acceptanceDetails({ documents, requirement, correction }: NewSubmission): Record<string, unknown> {
  return {
    documents: documents.map(({ sha256 }) => sha256),
    ...(requirement && { requirement: digestOf(requirement) }),
    ...(correction && { correctionOf: correction.of }),
  };
}

/** One transaction moves no more than this, besides what it was called for. */
const AT_ONCE = 200;

/**
 * Moves the owner's acceptances into the audit trail, those of these submissions before anything else: what is said of them next,
 * `entries`, comes after their acceptance. Others come along, so that many cost one turn at the end of the chain.
 * @returns how many acceptances were moved
 */
export async function enterAcceptances(
  client: Queryable,
  owner: string,
  submissions: readonly string[],
  entries: readonly OwnAuditEntry[] = [],
): Promise<number> {
  await lockAudit(client, owner);
  const { rows } = await client.query<AcceptanceRow>(
    `DELETE FROM heatgate.acceptance AS a
     WHERE a.owner = $1 AND (a.submission = ANY ($2) OR a.submission IN (
       SELECT submission FROM heatgate.acceptance WHERE owner = $1 ORDER BY submission LIMIT $3))
     RETURNING submission, accepted_at, actor, details`,
    [owner, submissions, AT_ONCE],
  );
  const inOrder = rows.toSorted((one, other) => (one.submission < other.submission ? -1 : 1));
  const accepted = inOrder.map(({ submission: subject, actor, accepted_at: acceptedAt, details }): OwnAuditEntry => {
    return {
      actor,
      kind: "submission.accepted",
      subject,
      details: { acceptedAt: acceptedAt.toISOString(), ...details },
    };
  });
  await appendLocked(client, owner, [...accepted, ...entries]);
  return rows.length;
}

interface AcceptanceRow {
  readonly submission: string;
  readonly accepted_at: Date;
  readonly actor: string;
  readonly details: Record<string, unknown>;
}

/** For submissions that nothing else was said of for a while. */
export async function enterWaitingAcceptances(pool: pg.Pool): Promise<number> {
  const { rows } = await pool.query<{ owner: string }>("SELECT DISTINCT owner FROM heatgate.acceptance");
  let entered = 0;
  for (const { owner } of rows) {
    for (let moved = AT_ONCE; moved === AT_ONCE; entered += moved) {
      moved = await inTransaction(pool, (client) => enterAcceptances(client, owner, []));
    }
  }
  return entered;
}
