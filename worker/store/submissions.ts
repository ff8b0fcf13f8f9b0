import { SpanKind } from "@opentelemetry/api";
import type pg from "pg";
import type { WorkQueue } from "../queue/queue.js";
import { currentTraceparent, inSpan } from "../tracing/span.js";
import { acceptanceDetails } from "./acceptances.js";
import { areNeededElsewhere, lockBytes, unmarkBytes } from "./erased-bytes.js";
import { getErasure, whileKept } from "./erasures.js";
import { nameHeartbeatSubmission } from "./heartbeats.js";
import { isId, newId } from "./new-id.js";
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

async function createWithin({ pool, queue, sealer }: CreateDeps, submission: NewSubmission): Promise<SubmissionRecord> {
  const id = newId();
  const job = { queue: "judge", subject: id } as const;
  const insert = () =>
    inTransaction(pool, async (client) => {
      await insertSubmission(client, sealer, id, submission);
      const kept = await keepIdempotencyKey(client, id, submission);
      if (kept) throw new KeyTaken(kept);
      await keepDocuments(client, id, submission);
      if (submission.isHeartbeat) await nameHeartbeatSubmission(client, id);
      await queue.addWithin(client, job);
      return undefined;
    });
  const earlier = await whileKept(pool, submission.correction?.of ?? id, insert).catch((error) => {
    if (error instanceof KeyTaken) return error.by;
    throw error;
  });

  if (earlier) {
    if (earlier.fingerprint !== submission.idempotency?.fingerprint) {
      throw new IdempotencyKeyReused("The idempotency key was used before, for a request with another content.");
    }
    const kept = await getSubmission(pool, earlier.submission);
    if (!kept) throw new SubmissionErased(await getErasure(pool, earlier.submission));
    return kept;
  }
  // What is committed is accepted, whether or not the queue hears of it: the sweep will bring it there.
  await queue.addAfter(job).catch(() => {});
  return (await getSubmission(pool, id))!;
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

class KeyTaken extends Error {
  constructor(readonly by: KeptKey) {
    super("idempotency key taken");
  }
}

const KEY_LIFETIME = "interval '24 hours'";

async function insertSubmission(
  client: Queryable,
  sealer: Sealer,
  id: string,
  submission: NewSubmission,
): Promise<void> {
  const { callback } = submission;
  await client.query(
    // What belongs to nobody is in nobody's trail.
    `WITH accepted AS (
       INSERT INTO heatgate.acceptance (submission, owner, actor, details)
       SELECT $1::uuid, $2::text, $11::text, $12::json WHERE $2::text IS NOT NULL)
     INSERT INTO heatgate.submission (id, owner, requirement, tags, callback_url, callback_secret, content, corrections, correction_of,
                                      traceparent)
     SELECT $1::uuid, $2::text, $3::json, $4::jsonb, coalesce($5::text, corrected.callback_url),
            coalesce($6::text, corrected.callback_secret), $7::text, $8::json, asked.id, $10::text
     FROM (SELECT $9::uuid AS id) AS asked LEFT JOIN heatgate.submission AS corrected ON corrected.id = asked.id`,
    [
      id,
      submission.owner ?? null,
      submission.requirement && JSON.stringify(submission.requirement),
      JSON.stringify(submission.tags ?? {}),
      callback?.url ?? null,
      callback ? sealer.seal("webhook-secret", callback.secret) : null,
      submission.content ?? null,
      submission.correction ? JSON.stringify(submission.correction.corrections) : null,
      submission.correction?.of ?? null,
      currentTraceparent() ?? null,
      submission.by ?? "heatgate",
      JSON.stringify(acceptanceDetails(submission)),
    ],
  );
}

/** Bytes that were put into the store before this transaction, and erased since, are put there again under its lock. */
async function keepDocuments(client: Queryable, id: string, submission: NewSubmission): Promise<void> {
  await lockBytes(client, [...new Set(submission.documents.map(({ sha256 }) => sha256))]);
  const marked = new Set(await insertDocuments(client, id, submission));
  if (marked.size === 0) return;
  if (submission.keepAgain) {
    for (const document of submission.documents) if (marked.has(document.sha256)) await submission.keepAgain(document);
  } else if (!(await areNeededElsewhere(client, [...marked], id))) {
    throw new DocumentsErased("The bytes of the documents are not kept any more.");
  }
  await unmarkBytes(client, [...marked]);
}

/** The digests of those whose bytes are marked as erased. */
async function insertDocuments(client: Queryable, id: string, submission: NewSubmission): Promise<readonly string[]> {
  const documents = submission.documents;
  const { rows } = await client.query<{ sha256: string; is_marked: boolean }>(
    `INSERT INTO heatgate.document (submission, position, name, sha256, bytes, media_type)
     SELECT $1, d.position - 1, d.name, d.sha256, d.bytes, d.media_type
     FROM unnest($2::text[], $3::text[], $4::bigint[], $5::text[]) WITH ORDINALITY
       AS d (name, sha256, bytes, media_type, position)
     RETURNING sha256, sha256 IN (SELECT e.sha256 FROM heatgate.erased_document AS e WHERE e.sha256 = ANY ($3)) AS is_marked`,
    [
      id,
      documents.map((document) => document.name),
      documents.map((document) => document.sha256),
      documents.map((document) => document.bytes),
      documents.map((document) => document.mediaType),
    ],
  );
  return rows.filter((row) => row.is_marked).map(({ sha256 }) => sha256);
}

/** The key's earlier use, if it has one. Two requests at the same time wait for each other at the insert. */
async function keepIdempotencyKey(
  client: Queryable,
  id: string,
  { owner, idempotency }: NewSubmission,
): Promise<KeptKey | undefined> {
  if (!idempotency) return undefined;
  const { rows } = await client.query<KeptKey>(
    `INSERT INTO heatgate.idempotency_key AS kept (owner, key, fingerprint, submission) VALUES ($1, $2, $3, $4)
     ON CONFLICT (owner, key) DO UPDATE SET
       fingerprint = CASE WHEN kept.created_at > now() - ${KEY_LIFETIME} THEN kept.fingerprint ELSE excluded.fingerprint END,
       submission = CASE WHEN kept.created_at > now() - ${KEY_LIFETIME} THEN kept.submission ELSE excluded.submission END,
       created_at = CASE WHEN kept.created_at > now() - ${KEY_LIFETIME} THEN kept.created_at ELSE now() END
     RETURNING submission, fingerprint`,
    [owner ?? "", idempotency.key, idempotency.fingerprint, id],
  );
  return rows[0]!.submission === id ? undefined : rows[0];
}
