import canonicalize from "canonicalize";
import type pg from "pg";
import type { Report } from "../../core/report/report.js";
import type { WorkQueue } from "../queue/queue.js";
import { enterAcceptances } from "./acceptances.js";
import type { OwnAuditEntry } from "./audit.js";
import { findEarlierReadings } from "./earlier-readings.js";
import { type FinalOutcome, failedHeatsData, finalData } from "./event-data.js";
import { isHeartbeat } from "./heartbeats.js";
import { keepHeats } from "./heats.js";
import { keepPictures } from "./pictures.js";
import { lockEventOrder, recordEvent, tellQueue } from "./record-event.js";
import type { Failure, FinishedReport } from "./records.js";
import type { ReportSigner } from "./signing/report-signer.js";
import { inTransaction, type Queryable } from "./transaction.js";

/** Told to every process that waits for a submission to become final. */
export const FINAL_CHANNEL = "heatgate_final";

export async function markWorking(
  pool: pg.Pool,
  id: string,
  startsAllowed: number,
): Promise<"started" | "final" | "given-up" | "unknown"> {
  const { rowCount } = await pool.query(
    `UPDATE heatgate.submission SET state = 'working', starts = starts + 1, touched_at = now()
     WHERE id = $1 AND state IN ('accepted', 'working') AND starts < $2`,
    [id, startsAllowed],
  );
  if (rowCount === 1) return "started";
  const { rows } = await pool.query("SELECT state FROM heatgate.submission WHERE id = $1", [id]);
  if (!rows[0]) return "unknown";
  return rows[0].state === "done" || rows[0].state === "failed" ? "final" : "given-up";
}

/** Starts of an unfinished submission that nobody has heard the end of, and how long ago the last of them was. */
export interface Starts {
  readonly count: number;
  /** By the database's clock; negative where that was set back since. */
  readonly agoMs: number;
}

export async function findStarts(pool: pg.Pool, id: string): Promise<Starts> {
  const { rows } = await pool.query<Starts>(
    `SELECT starts AS count, extract(epoch FROM now() - touched_at)::double precision * 1000 AS "agoMs"
     FROM heatgate.submission WHERE id = $1`,
    [id],
  );
  return rows[0] ?? { count: 0, agoMs: 0 };
}

export async function markInterrupted(pool: pg.Pool, id: string): Promise<void> {
  await pool.query(
    `UPDATE heatgate.submission SET starts = greatest(starts - 1, 0), touched_at = now()
     WHERE id = $1 AND state = 'working'`,
    [id],
  );
}

/** What making a submission final works with. */
export interface FinalDeps {
  readonly pool: pg.Pool;
  readonly queue: WorkQueue;
  readonly publicUrl: string;
  readonly signReport: ReportSigner;
}

export async function finish(deps: FinalDeps, id: string, report: FinishedReport): Promise<boolean> {
  const parsed = JSON.parse(report.json) as Report;
  const update = async (client: Queryable) => {
    const { rows } = await client.query<FinalRow>(
      `UPDATE heatgate.submission
       SET state = 'done', finished_at = now(), touched_at = now(), verdict = $2, heats = $3, report_digest = $4
       WHERE id = $1 AND state IN ('accepted', 'working') RETURNING ${FINAL_COLUMNS}`,
      [id, report.verdict, JSON.stringify(report.heats), report.digest],
    );
    if (rows[0]) {
      const { keyId, signature } = await deps.signReport(client, report.json);
      const earlier = JSON.stringify(report.earlier ?? []);
      await client.query(
        `INSERT INTO heatgate.report (submission, json, digest, evidence, earlier, signing_key, signature)
         VALUES ($1, $2, $3, $4, $5, $6, $7)`,
        [id, report.json, report.digest, report.evidence ?? null, earlier, keyId, signature],
      );
      await keepPictures(client, id, report.pictures ?? []);
      await keepHeats(client, id, rows[0].owner ?? "", parsed);
    }
    return rows[0];
  };
  const heats = parsed.heats.map(({ heat }) => heat);
  const confirm = async (client: Queryable) => {
    const earlier = await findEarlierReadings(client, id, heats);
    if (canonicalize(earlier) !== canonicalize(report.earlier ?? [])) throw new EarlierReadingsChanged();
  };
  try {
    const failed = failedHeatsData(id, report, parsed, deps.publicUrl);
    await makeFinal(deps, id, { type: "submission.done", report }, update, { confirm, failed });
    return true;
  } catch (error) {
    if (error instanceof EarlierReadingsChanged) return false;
    throw error;
  }
}

class EarlierReadingsChanged extends Error {}

export async function fail(deps: FinalDeps, id: string, failure: Failure): Promise<void> {
  await makeFinal(deps, id, { type: "submission.failed", failure }, async (client) => {
    const { rows } = await client.query<FinalRow>(
      `UPDATE heatgate.submission
       SET state = 'failed', finished_at = now(), touched_at = now(), failure_code = $2, failure_message = $3
       WHERE id = $1 AND state IN ('accepted', 'working') RETURNING ${FINAL_COLUMNS}`,
      [id, failure.code, failure.message],
    );
    return rows[0];
  });
}

interface FinalRow {
  readonly owner: string | null;
  readonly callback_url: string | null;
  readonly callback_secret: string | null;
  readonly finished_at: Date;
}

const FINAL_COLUMNS = "owner, callback_url, callback_secret, finished_at";

/**
 * The final state, its event and the event's delivery are one commit: none of them can exist without the others. `confirm`
 * throws when the outcome no longer holds; from it to the commit nobody else makes anything final.
 */
async function makeFinal(
  { pool, queue, publicUrl }: FinalDeps,
  id: string,
  outcome: FinalOutcome,
  update: (client: Queryable) => Promise<FinalRow | undefined>,
  {
    confirm,
    failed,
  }: { confirm?(client: Queryable): Promise<void>; readonly failed?: Record<string, unknown> | undefined } = {},
): Promise<void> {
  const jobs = await inTransaction(pool, async (client) => {
    const final = await update(client);
    // Somebody else made it final: their result stands.
    if (!final) return [];

    await lockEventOrder(client);
    await confirm?.(client);
    const { callback_url: url, callback_secret: secret, finished_at: at } = final;
    const about = { owner: final.owner ?? "", submission: id, at };
    const told = await recordEvent(client, queue, {
      ...about,
      type: outcome.type,
      data: finalData(id, outcome, publicUrl),
      ...(url !== null && secret !== null && { callback: { url, secret } }),
    });
    const failure = failed && (await recordEvent(client, queue, { ...about, type: "heat.failed", data: failed }));
    await enterAcceptances(client, about.owner, [id], await auditEntries(client, id, outcome));
    await client.query("SELECT pg_notify($1, $2)", [FINAL_CHANNEL, id]);
    return [...told.jobs, ...(failure?.jobs ?? [])];
  });
  await tellQueue(queue, jobs);
}

/** What the trail says of it; nothing of a heartbeat. */
async function auditEntries(client: Queryable, id: string, outcome: FinalOutcome): Promise<readonly OwnAuditEntry[]> {
  if (await isHeartbeat(client, id)) return [];
  return [{ actor: "heatgate", kind: outcome.type, subject: id, details: await auditDetails(client, id, outcome) }];
}

/** What was judged, and what came of it: the documents by their bytes, the requirement and the report by their digests. */
async function auditDetails(client: Queryable, id: string, outcome: FinalOutcome): Promise<Record<string, unknown>> {
  const { rows } = await client.query<{ sha256: string }>(
    "SELECT sha256 FROM heatgate.document WHERE submission = $1 ORDER BY position",
    [id],
  );
  const documents = rows.map(({ sha256 }) => sha256);
  const corrected = await client.query<{ correction_of: string | null; corrections: { by: string } | null }>(
    "SELECT correction_of, corrections FROM heatgate.submission WHERE id = $1",
    [id],
  );
  const { correction_of: correctionOf, corrections } = corrected.rows[0]!;
  const correction = correctionOf === null ? {} : { correctionOf, corrections };
  if (outcome.type === "submission.failed") return { documents, ...correction, failure: outcome.failure.code };
  return { documents, ...correction, verdict: outcome.report.verdict, reportDigest: outcome.report.digest };
}
