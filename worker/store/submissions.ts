import { SpanKind } from "@opentelemetry/api";
import type pg from "pg";
import type { Job, WorkQueue } from "../queue/queue.js";
import { currentTraceparent, inSpan } from "../tracing/span.js";
import { acceptanceDetails } from "./acceptances.js";
import { areNeededElsewhere, lockBytes, unmarkBytes } from "./erased-bytes.js";
import { getErasure, whileKept } from "./erasures.js";
import { nameHeartbeatSubmission } from "./heartbeats.js";
import { idsMade, isId, newId } from "./new-id.js";
import {
  BadCursor,
  DocumentsErased,
  IdempotencyKeyReused,
  type KeptIdempotencyKey,
  type ListFilter,
  type NewSubmission,
  type Page,
  SubmissionErased,
  type SubmissionRecord,
} from "./records.js";
import type { Sealer } from "./signing/sealer.js";
import { readSubmissionRow, SUBMISSION_COLUMNS, type SubmissionRow } from "./submission-row.js";
import { inTransaction, type Queryable } from "./transaction.js";

interface CreateDeps {
  readonly pool: pg.Pool;
  readonly queue: WorkQueue;
  readonly sealer: Sealer;
}

export function createSubmission(deps: CreateDeps, submission: NewSubmission): Promise<SubmissionRecord> {
  return inSpan("accept", { kind: SpanKind.PRODUCER }, async (span) => {
    const record = await createWithin(deps, submission);
    span.setAttribute("heatgate.submission", record.id);
    return record;
  });
}

async function createWithin(deps: CreateDeps, submission: NewSubmission): Promise<SubmissionRecord> {
  const { pool, queue } = deps;
  const id = newId();
  const insert = async () => {
    // One statement is a transaction of its own: one way to the database and back, and one commit.
    const inserted = submission.isHeartbeat ? undefined : await insertSubmission(deps, pool, id, submission);
    if (inserted && !inserted.marked) return inserted;
    return await inTransaction(pool, async (client): Promise<Inserted> => {
      const earlier = await findKeptKey(client, submission);
      if (earlier) return { earlier };
      await keepMarkedAgain(client, id, submission);
      const result = await insertSubmission(deps, client, id, submission);
      if (submission.isHeartbeat && result.kept) await nameHeartbeatSubmission(client, id);
      return result;
    });
  };
  const { kept, earlier } = await whileKept(pool, submission.correction?.of ?? id, insert);
  if (earlier) return await findEarlier(pool, earlier, submission);
  // What is committed is accepted, whether or not the queue hears of it: the sweep will bring it there.
  await queue.addAfter(jobFor(id)).catch(() => {});
  return kept!;
}

function jobFor(id: string): Job {
  return { queue: "judge", subject: id };
}

async function findEarlier(pool: pg.Pool, earlier: KeptKey, submission: NewSubmission): Promise<SubmissionRecord> {
  if (earlier.fingerprint !== submission.idempotency?.fingerprint) {
    throw new IdempotencyKeyReused("The idempotency key was used before, for a request with another content.");
  }
  const kept = await getSubmission(pool, earlier.submission);
  if (!kept) throw new SubmissionErased(await getErasure(pool, earlier.submission));
  return kept;
}

export async function getSubmission(
  client: Queryable,
  id: string,
  owner?: string,
): Promise<SubmissionRecord | undefined> {
  if (!isId(id)) return undefined;
  const { rows } = await client.query<SubmissionRow>(
    `SELECT ${SUBMISSION_COLUMNS} FROM heatgate.submission AS s WHERE s.id = $1 AND ($2::text IS NULL OR s.owner = $2)`,
    [id, owner ?? null],
  );
  return rows[0] && readSubmissionRow(rows[0]);
}

export async function listSubmissions(
  pool: pg.Pool,
  filter: ListFilter,
  limit: number,
  cursor?: string,
): Promise<Page<SubmissionRecord>> {
  if (cursor !== undefined && !isId(cursor)) throw new BadCursor("This cursor was not given out by this service.");
  const { rows } = await pool.query<SubmissionRow>(
    `SELECT ${SUBMISSION_COLUMNS} FROM heatgate.submission AS s
     WHERE ($1::text IS NULL OR s.owner = $1)
       AND ($2::text IS NULL OR s.state = $2)
       AND ($3::text IS NULL OR s.verdict = $3)
       AND ($4::jsonb IS NULL OR s.tags @> $4)
       AND ($5::timestamptz IS NULL OR s.created_at >= $5)
       AND ($6::timestamptz IS NULL OR s.created_at < $6)
       AND ($7::uuid IS NULL OR s.id < $7)
       AND s.id >= $9 AND s.id < $10
     ORDER BY s.id DESC LIMIT $8`,
    [
      filter.owner ?? null,
      filter.state ?? null,
      filter.verdict ?? null,
      filter.tags ? JSON.stringify(filter.tags) : null,
      filter.createdFrom ?? null,
      filter.createdBefore ?? null,
      cursor ?? null,
      limit + 1,
      ...idsMade(filter.createdFrom, filter.createdBefore),
    ],
  );
  const items = rows.slice(0, limit).map(readSubmissionRow);
  return rows.length > limit ? { items, next: items.at(-1)!.id } : { items };
}

export async function findByIdempotencyKey(
  pool: pg.Pool,
  sealer: Sealer,
  owner: string | undefined,
  key: string,
): Promise<KeptIdempotencyKey | undefined> {
  const { rows } = await pool.query<KeptKey & { callback_secret: string | null }>(
    `SELECT k.submission, k.fingerprint, s.callback_secret
     FROM heatgate.idempotency_key AS k LEFT JOIN heatgate.submission AS s ON s.id = k.submission
     WHERE k.owner = $1 AND k.key = $2 AND k.created_at > now() - ${KEY_LIFETIME}`,
    [owner ?? "", key],
  );
  if (!rows[0]) return undefined;
  const { submission, fingerprint, callback_secret: callbackSecret } = rows[0];
  const kept = await getSubmission(pool, submission);
  const erasure = kept ? undefined : await getErasure(pool, submission);
  return {
    ...(kept && { submission: kept }),
    ...(erasure && { erasure }),
    fingerprint,
    ...(callbackSecret !== null && { callbackSecret: sealer.open("webhook-secret", callbackSecret) }),
  };
}

export async function findSameContent(
  pool: pg.Pool,
  owner: string,
  content: string,
): Promise<SubmissionRecord | undefined> {
  const { rows } = await pool.query<SubmissionRow>(
    `SELECT ${SUBMISSION_COLUMNS} FROM heatgate.submission AS s
     WHERE s.owner = $1 AND s.content = $2 AND s.state <> 'failed' AND s.created_at > now() - ${KEY_LIFETIME}
     ORDER BY s.id DESC LIMIT 1`,
    [owner, content],
  );
  return rows[0] && readSubmissionRow(rows[0]);
}

interface KeptKey {
  readonly submission: string;
  readonly fingerprint: string;
}

const KEY_LIFETIME = "interval '24 hours'";

async function findKeptKey(client: Queryable, { owner, idempotency }: NewSubmission): Promise<KeptKey | undefined> {
  if (!idempotency) return undefined;
  const { rows } = await client.query<KeptKey>(
    `SELECT submission, fingerprint FROM heatgate.idempotency_key
     WHERE owner = $1 AND key = $2 AND created_at > now() - ${KEY_LIFETIME}`,
    [owner ?? "", idempotency.key],
  );
  return rows[0];
}

interface Inserted {
  readonly kept?: SubmissionRecord;
  /** The idempotency key's earlier use. Nothing was inserted. */
  readonly earlier?: KeptKey;
  /** The bytes of some document are marked as erased. Nothing was inserted. */
  readonly marked?: true;
}

/**
 * Submission, documents, idempotency key, the acceptance for the audit trail and, where the queue is in the database, the job, in one
 * statement: all of it is inserted, or nothing. Two requests with one key at the same time wait for each other.
 */
async function insertSubmission(
  { sealer, queue }: CreateDeps,
  client: Queryable,
  id: string,
  submission: NewSubmission,
): Promise<Inserted> {
  const { owner, requirement, documents, tags = {}, callback, correction, idempotency } = submission;
  const values: readonly unknown[] = [
    id,
    owner ?? null,
    requirement && JSON.stringify(requirement),
    JSON.stringify(tags),
    callback?.url ?? null,
    callback ? sealer.seal("webhook-secret", callback.secret) : null,
    submission.content ?? null,
    correction ? JSON.stringify(correction.corrections) : null,
    correction?.of ?? null,
    currentTraceparent() ?? null,
    submission.by ?? "heatgate",
    JSON.stringify(acceptanceDetails(submission)),
    documents.map(({ name }) => name),
    documents.map(({ sha256 }) => sha256),
    documents.map(({ bytes }) => bytes),
    documents.map(({ mediaType }) => mediaType),
    idempotency?.key ?? null,
    idempotency?.fingerprint ?? null,
  ];
  const job = queue.addBy(jobFor(id), values.length + 1);
  const { rows } = await client.query<InsertedRow>(
    `${INSERT_ALL}
     SELECT bytes.marked <> '{}' AS marked, used.submission AS used_by, used.fingerprint, kept.created_at, kept.callback_url
            ${job ? `, CASE WHEN kept.id IS NOT NULL THEN (${job.sql}) END AS job` : ""}
     FROM bytes LEFT JOIN used ON true LEFT JOIN kept ON true`,
    [...values, ...(job?.values ?? [])],
  );
  const { marked, used_by: usedBy, fingerprint, created_at: createdAt, callback_url: callbackUrl } = rows[0]!;
  if (marked) return { marked: true };
  if (!createdAt) return { earlier: { submission: usedBy!, fingerprint: fingerprint! } };
  const kept: SubmissionRecord = {
    id,
    state: "accepted",
    createdAt,
    requirement,
    documents,
    tags,
    ...(owner !== undefined && { owner }),
    ...(callbackUrl !== null && { callbackUrl }),
    ...(correction && { correction }),
  };
  return { kept };
}

interface InsertedRow {
  readonly marked: boolean;
  readonly used_by: string | null;
  readonly fingerprint: string | null;
  readonly created_at: Date | null;
  readonly callback_url: string | null;
}

/** `ready` has a row where the submission may be inserted. What belongs to nobody is in nobody's trail. */
const INSERT_ALL = `
  WITH bytes AS MATERIALIZED (SELECT heatgate.lock_bytes($14::text[]) AS marked),
  unmarked AS MATERIALIZED (SELECT 1 FROM bytes WHERE marked = '{}'),
  used AS (
    INSERT INTO heatgate.idempotency_key AS k (owner, key, fingerprint, submission)
    SELECT coalesce($2::text, ''), $17::text, $18::text, $1::uuid FROM unmarked WHERE $17::text IS NOT NULL
    ON CONFLICT (owner, key) DO UPDATE SET
      fingerprint = CASE WHEN k.created_at > now() - ${KEY_LIFETIME} THEN k.fingerprint ELSE excluded.fingerprint END,
      submission = CASE WHEN k.created_at > now() - ${KEY_LIFETIME} THEN k.submission ELSE excluded.submission END,
      created_at = CASE WHEN k.created_at > now() - ${KEY_LIFETIME} THEN k.created_at ELSE now() END
    RETURNING submission, fingerprint),
  ready AS MATERIALIZED (
    SELECT 1 FROM unmarked LEFT JOIN used ON true WHERE $17::text IS NULL OR used.submission = $1::uuid),
  accepted AS (
    INSERT INTO heatgate.acceptance (submission, owner, actor, details)
    SELECT $1::uuid, $2::text, $11::text, $12::json FROM ready WHERE $2::text IS NOT NULL),
  kept AS (
    INSERT INTO heatgate.submission (id, owner, requirement, tags, callback_url, callback_secret, content, corrections, correction_of,
                                     traceparent)
    SELECT $1::uuid, $2::text, $3::json, $4::jsonb, coalesce($5::text, corrected.callback_url),
           coalesce($6::text, corrected.callback_secret), $7::text, $8::json, asked.id, $10::text
    FROM ready, (SELECT $9::uuid AS id) AS asked LEFT JOIN heatgate.submission AS corrected ON corrected.id = asked.id
    RETURNING id, created_at, callback_url),
  documents AS (
    INSERT INTO heatgate.document (submission, position, name, sha256, bytes, media_type)
    SELECT $1::uuid, d.position - 1, d.name, d.sha256, d.bytes, d.media_type
    FROM ready, unnest($13::text[], $14::text[], $15::bigint[], $16::text[]) WITH ORDINALITY
      AS d (name, sha256, bytes, media_type, position))`;

/** Bytes that were put into the store before this transaction, and erased since, are put there again under its lock. */
async function keepMarkedAgain(client: Queryable, id: string, submission: NewSubmission): Promise<void> {
  const marked = new Set(await lockBytes(client, [...new Set(submission.documents.map(({ sha256 }) => sha256))]));
  if (marked.size === 0) return;
  if (submission.keepAgain) {
    for (const document of submission.documents) if (marked.has(document.sha256)) await submission.keepAgain(document);
  } else if (!(await areNeededElsewhere(client, [...marked], id))) {
    const erasure = submission.correction && (await getErasure(client, submission.correction.of));
    if (erasure) throw new SubmissionErased(erasure);
    throw new DocumentsErased("The bytes of the documents are not kept any more.");
  }
  await unmarkBytes(client, [...marked]);
}
