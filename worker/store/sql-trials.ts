import { setTimeout as sleep } from "node:timers/promises";
import type pg from "pg";
import type { WorkQueue } from "../queue/queue.js";
import { whileKept } from "./erasures.js";
import { isId, newId } from "./new-id.js";
import { inTransaction } from "./transaction.js";
import { trialJob } from "./trial-jobs.js";
import type { NewTrial, TrialRecord, Trials } from "./trials.js";

export function openTrials(pool: pg.Pool, queue: WorkQueue): Trials {
  return {
    create: (trial) => whileKept(pool, trial.submission, () => create(pool, queue, trial)),
    get: (id, submission, owner) => get(pool, id, submission, owner),
    async waitUntilFinal(trial, timeoutMs) {
      const until = performance.now() + timeoutMs;
      let current = trial;
      for (let waitMs = 20; current.state === "accepted"; waitMs = Math.min(waitMs * 2, LONGEST_LOOK_MS)) {
        const leftMs = until - performance.now();
        if (leftMs <= 0) break;
        await sleep(Math.min(waitMs, leftMs));
        current = (await get(pool, trial.id, trial.submission)) ?? current;
      }
      return current;
    },
  };
}

const LONGEST_LOOK_MS = 500;
const COLUMNS = "id, kind, submission, state, result, failure_code, failure_message, created_at";

async function create(pool: pg.Pool, queue: WorkQueue, trial: NewTrial): Promise<TrialRecord> {
  const { kind, submission, heat, requirement } = trial;
  const kept = await inTransaction(pool, async (client) => {
    const { rows } = await client.query<TrialRow>(
      `INSERT INTO heatgate.trial (id, kind, submission, heat, requirement) VALUES ($1, $2, $3, $4, $5)
       ON CONFLICT (submission) WHERE kind = 'grades' DO UPDATE SET kind = excluded.kind RETURNING ${COLUMNS}`,
      [newId(), kind, submission, heat ?? null, requirement ? JSON.stringify(requirement) : null],
    );
    const record = readTrialRow(rows[0]!);
    if (record.state === "accepted") await queue.addWithin(client, trialJob(record.id));
    return record;
  });
  // The sweep brings there what the queue does not hear of now.
  if (kept.state === "accepted") await queue.addAfter(trialJob(kept.id)).catch(() => {});
  return kept;
}

async function get(pool: pg.Pool, id: string, submission: string, owner?: string): Promise<TrialRecord | undefined> {
  if (!isId(id)) return undefined;
  const { rows } = await pool.query<TrialRow>(
    `SELECT ${COLUMNS} FROM heatgate.trial AS t WHERE t.id = $1 AND t.submission = $2
       AND ($3::text IS NULL OR EXISTS (SELECT 1 FROM heatgate.submission AS s WHERE s.id = t.submission AND s.owner = $3))`,
    [id, submission, owner ?? null],
  );
  return rows[0] && readTrialRow(rows[0]);
}

interface TrialRow extends Pick<TrialRecord, "id" | "kind" | "submission" | "state"> {
  readonly result: unknown;
  readonly failure_code: string | null;
  readonly failure_message: string | null;
  readonly created_at: Date;
}

function readTrialRow(row: TrialRow): TrialRecord {
  const { id, kind, submission, state } = row;
  return {
    id,
    kind,
    submission,
    state,
    createdAt: row.created_at,
    ...(row.result !== null && { result: row.result }),
    ...(row.failure_code !== null && { failure: { code: row.failure_code, message: row.failure_message ?? "" } }),
  };
}
