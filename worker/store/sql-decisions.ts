import type pg from "pg";
import { appendAudit } from "./audit.js";
import type { Decision, Decisions, NewDecision } from "./decisions.js";
import { isId, newId } from "./new-id.js";
import { inTransaction } from "./transaction.js";

export function openDecisions(pool: pg.Pool): Decisions {
  return {
    add: (decision) => add(pool, decision),
    async list(submission) {
      if (!isId(submission)) return [];
      const { rows } = await pool.query(`SELECT * FROM heatgate.decision WHERE submission = $1 ORDER BY id`, [
        submission,
      ]);
      return rows.map(readDecisionRow);
    },
  };
}

function add(pool: pg.Pool, decision: NewDecision): Promise<Decision> {
  const { owner, submission, heat, action, person, reason, reference, verdict, reportDigest, keyName } = decision;
  return inTransaction(pool, async (client) => {
    const { rows } = await client.query(
      `INSERT INTO heatgate.decision (id, owner, submission, heat, action, person, reason, reference, verdict, key_name)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) RETURNING *`,
      [newId(), owner, submission, heat, action, person, reason, reference ?? null, verdict, keyName],
    );
    await appendAudit(client, {
      owner,
      actor: person,
      kind: "heat.decided",
      subject: submission,
      // What was known at the time: the verdict, and the exact report that it stood in.
      details: { heat, action, reason, ...(reference && { reference }), verdict, reportDigest, key: keyName },
    });
    return readDecisionRow(rows[0]);
  });
}

type DecisionRow = Omit<Decision, "reference" | "createdAt"> & {
  readonly reference: string | null;
  readonly created_at: Date;
};

function readDecisionRow(row: DecisionRow): Decision {
  const { id, submission, heat, action, person, reason, reference, verdict, created_at } = row;
  return {
    id,
    submission,
    heat,
    action,
    person,
    reason,
    ...(reference !== null && { reference }),
    verdict,
    createdAt: created_at,
  };
}
