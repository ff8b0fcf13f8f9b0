import type pg from "pg";
import type { WorkQueue } from "../queue/queue.js";
import { appendAudit } from "./audit.js";
import type { Decision, Decisions, NewDecision } from "./decisions.js";
import { whileKept } from "./erasures.js";
import { isId, newId } from "./new-id.js";
import { lockEventOrder, recordEvent, tellQueue } from "./record-event.js";
import { inTransaction } from "./transaction.js";

export function openDecisions(pool: pg.Pool, queue: WorkQueue): Decisions {
  return {
    add: (decision) => whileKept(pool, decision.submission, () => add(pool, queue, decision)),
    async list(submission, owner) {
      if (!isId(submission)) return [];
      const { rows } = await pool.query(
        `SELECT * FROM heatgate.decision WHERE submission = $1 AND owner = $2 ORDER BY id`,
        [submission, owner],
      );
      return rows.map(readDecisionRow);
    },
  };
}

async function add(pool: pg.Pool, queue: WorkQueue, decision: NewDecision): Promise<Decision> {
  const { owner, submission, heat, action, person, reason, reference, verdict, reportDigest, keyName } = decision;
  const { kept, jobs } = await inTransaction(pool, async (client) => {
    const { rows } = await client.query(
      `INSERT INTO heatgate.decision (id, owner, submission, heat, action, person, reason, reference, verdict, key_name)
       VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10) RETURNING *`,
      [newId(), owner, submission, heat, action, person, reason, reference ?? null, verdict, keyName],
    );
    const kept = readDecisionRow(rows[0]);
    await lockEventOrder(client);
    const { jobs } = await recordEvent(client, queue, {
      owner,
      type: "decision.recorded",
      submission,
      at: kept.createdAt,
      data: { submission, heat, action, decision: kept.id, verdict, reportSha256: reportDigest },
      content: { person, reason, ...(reference && { reference }) },
    });
    await appendAudit(client, {
      owner,
      actor: person,
      kind: "heat.decided",
      subject: submission,
      // What was known at the time: the verdict, and the exact report that it stood in.
      details: { heat, action, reason, ...(reference && { reference }), verdict, reportDigest, key: keyName },
    });
    return { kept, jobs };
  });
  await tellQueue(queue, jobs);
  return kept;
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
