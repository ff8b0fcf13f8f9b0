import type pg from "pg";
import type { Corrections } from "../../core/certificate/corrections.js";
import type { EarlierHeat } from "../../core/certificate/earlier-reading.js";
import type { Requirement } from "../../core/requirement/requirement.js";
import type { Job } from "../queue/queue.js";
import type { Failure } from "./records.js";
import type { TrialKind } from "./trials.js";

/** Trials wait in the line of submissions: the same workers do them. Their subject tells the two apart. */
const SUBJECT = "trial_";

export function trialJob(id: string): Job {
  return { queue: "judge", subject: `${SUBJECT}${id}` };
}

/** The trial that a job is about; undefined: it is about a submission. */
export function trialOf(subject: string): string | undefined {
  return subject.startsWith(SUBJECT) ? subject.slice(SUBJECT.length) : undefined;
}

/** Everything that a worker needs to answer. */
export interface StartedTrial {
  readonly kind: TrialKind;
  readonly heat: string | undefined;
  /** The requirement to try. */
  readonly requirement: Requirement | null;
  readonly submitted: { readonly requirement: Requirement | null; readonly corrections: Corrections | undefined };
  /** The report as stored; undefined: it is there no more. */
  readonly reportJson: string | undefined;
  readonly evidence: Uint8Array | undefined;
  readonly earlier: readonly EarlierHeat[];
}

/** Counts this start. "given-up": so many starts were never heard of again. */
export async function startTrial(
  pool: pg.Pool,
  id: string,
  startsAllowed: number,
): Promise<StartedTrial | "given-up" | "final"> {
  const { rows } = await pool.query(
    `UPDATE heatgate.trial AS t SET starts = t.starts + 1, touched_at = now()
     FROM heatgate.submission AS s LEFT JOIN heatgate.report AS r ON r.submission = s.id
     WHERE t.id = $1 AND t.state = 'accepted' AND s.id = t.submission
     RETURNING t.starts, t.kind, t.heat, t.requirement, s.requirement AS submitted, s.corrections, r.json, r.evidence, r.earlier`,
    [id],
  );
  const row = rows[0];
  if (!row) return "final";
  if (row.starts > startsAllowed) return "given-up";
  return {
    kind: row.kind,
    heat: row.heat ?? undefined,
    requirement: row.requirement,
    submitted: { requirement: row.submitted, corrections: row.corrections ?? undefined },
    reportJson: row.json ?? undefined,
    evidence: row.evidence ?? undefined,
    earlier: row.earlier ?? [],
  };
}

/** A second answer changes nothing. */
export async function finishTrial(
  pool: pg.Pool,
  id: string,
  answer: { readonly result: unknown } | { readonly failure: Failure },
): Promise<void> {
  const failure = "failure" in answer ? answer.failure : undefined;
  await pool.query(
    `UPDATE heatgate.trial
     SET state = $2, result = $3, failure_code = $4, failure_message = $5, finished_at = now(), touched_at = now()
     WHERE id = $1 AND state = 'accepted'`,
    [
      id,
      failure ? "failed" : "done",
      "result" in answer ? JSON.stringify(answer.result) : null,
      failure?.code ?? null,
      failure?.message ?? null,
    ],
  );
}

/** Takes back the count of a start that ended in an error instead of dying. */
export async function interruptTrial(pool: pg.Pool, id: string): Promise<void> {
  await pool.query(
    "UPDATE heatgate.trial SET starts = greatest(starts - 1, 0), touched_at = now() WHERE id = $1 AND state = 'accepted'",
    [id],
  );
}

export async function countUnfinishedTrials(pool: pg.Pool): Promise<number> {
  const { rows } = await pool.query("SELECT count(*)::integer AS count FROM heatgate.trial WHERE state = 'accepted'");
  return rows[0].count;
}

/** Jobs for trials that nobody has answered, oldest first; what does not fit comes with the next sweep. */
export async function listUnfinishedTrialJobs(pool: pg.Pool, untouchedForMs: number): Promise<readonly Job[]> {
  const { rows } = await pool.query<{ id: string }>(
    `SELECT id FROM heatgate.trial WHERE state = 'accepted'
       AND touched_at <= now() - $1::double precision * interval '1 millisecond' ORDER BY id LIMIT 500`,
    [untouchedForMs],
  );
  return rows.map(({ id }) => trialJob(id));
}
