import type pg from "pg";
import type { Job, WorkQueue } from "../queue/queue.js";
import { enterAcceptances } from "./acceptances.js";
import type { OwnAuditEntry } from "./audit.js";
import { markBytesErased } from "./erased-bytes.js";
import { insertErasure } from "./erasures.js";
import { isId } from "./new-id.js";
import { FINAL_CHANNEL } from "./progress.js";
import { lockEventOrder, recordEvent, tellQueue } from "./record-event.js";
import type { Erasure, ErasureRequest } from "./records.js";
import { inTransaction, type Queryable } from "./transaction.js";

export interface EraseDeps {
  readonly pool: pg.Pool;
  readonly queue: WorkQueue;
}

/**
 * Erases a submission, whatever its state, and those that correct it, which are about the same documents. Its rows go, and with them
 * report, readings, pictures, heats, decisions, questions, events and deliveries; what stays is the erasure, an entry in the audit
 * trail and the event that tells of it. Bytes are marked for `removeErasedBytes`.
 */
export async function eraseSubmission(
  { pool, queue }: EraseDeps,
  id: string,
  owner: string,
  asked: ErasureRequest,
): Promise<Erasure | undefined> {
  if (!isId(id)) return undefined;
  const erased = await again(() =>
    inTransaction(pool, async (client) => {
      const family = await lockFamily(client, id, { owner });
      if (family.length === 0) return undefined;
      await lockDeliveries(client, family);
      await lockEventOrder(client);
      const erasures = await eraseFamily(client, family, asked);
      return { erasure: erasures[0]!, jobs: await tell(client, queue, family[0]!, erasures) };
    }),
  );
  if (!erased) return undefined;
  await tellQueue(queue, erased.jobs);
  return erased.erasure;
}

/** A row of the submission, locked until the end of the transaction. */
export interface LockedSubmission {
  readonly id: string;
  readonly owner: string | null;
  readonly created_at: Date;
  readonly finished_at: Date | null;
  readonly correction_of: string | null;
  readonly report_digest: string | null;
  readonly callback_url: string | null;
  readonly callback_secret: string | null;
}

const LOCKED_COLUMNS =
  "s.id, s.owner, s.created_at, s.finished_at, s.correction_of, s.report_digest, s.callback_url, s.callback_secret";

/**
 * The submission first, then those that correct it, which are about the same documents. Nobody finishes, corrects, decides on or asks
 * about any of them until this transaction ends. `owner`: only if it is theirs. `skipLocked`: nothing where somebody is at it.
 */
export async function lockFamily(
  client: Queryable,
  id: string,
  { owner, skipLocked = false }: { readonly owner?: string; readonly skipLocked?: boolean },
): Promise<readonly LockedSubmission[]> {
  const lock = skipLocked ? "FOR UPDATE SKIP LOCKED" : "FOR UPDATE";
  const { rows: roots } = await client.query<LockedSubmission>(
    `SELECT ${LOCKED_COLUMNS} FROM heatgate.submission AS s WHERE s.id = $1 AND ($2::text IS NULL OR s.owner = $2) ${lock}`,
    [id, owner ?? null],
  );
  if (roots.length === 0) return [];
  // Only now can no further correction come in.
  const { rows: corrections } = await client.query<LockedSubmission>(
    `SELECT ${LOCKED_COLUMNS} FROM heatgate.submission AS s WHERE s.correction_of = $1 ORDER BY s.id FOR UPDATE`,
    [id],
  );
  return [...roots, ...corrections];
}

/** Before the order of events is locked, as by everybody who locks both. */
export async function lockDeliveries(client: Queryable, family: readonly LockedSubmission[]): Promise<void> {
  await client.query(
    `SELECT 1 FROM heatgate.delivery AS d JOIN heatgate.event AS e ON e.id = d.event
     WHERE e.submission = ANY ($1) ORDER BY d.id FOR UPDATE OF d`,
    [family.map(({ id }) => id)],
  );
}

/** Takes the locked rows away, and writes down that it was done. In the order of the rows. */
export async function eraseFamily(
  client: Queryable,
  family: readonly LockedSubmission[],
  asked: ErasureRequest,
): Promise<readonly Erasure[]> {
  const ids = family.map(({ id }) => id);
  const { rows } = await client.query<{ submission: string; sha256: string; now: Date }>(
    `SELECT submission, sha256, clock_timestamp() AS now FROM heatgate.document
     WHERE submission = ANY ($1) ORDER BY submission, position`,
    [ids],
  );
  const erasedAt = rows[0]?.now ?? new Date();
  const erasures = family.map((submission) => {
    const documents = rows.filter((row) => row.submission === submission.id).map(({ sha256 }) => sha256);
    return erasureOf(submission, [...new Set(documents)], asked, erasedAt);
  });
  await markBytesErased(client, [...new Set(rows.map(({ sha256 }) => sha256))]);
  await client.query("DELETE FROM heatgate.event WHERE submission = ANY ($1)", [ids]);
  // Corrections and everything else go with it, by their foreign keys.
  await client.query("DELETE FROM heatgate.submission WHERE id = ANY ($1)", [ids]);
  const owner = family[0]!.owner ?? "";
  for (const erasure of erasures) await insertErasure(client, owner, erasure);
  await enterAcceptances(client, owner, ids, erasures.map(auditEntry));
  return erasures;
}

function auditEntry(erasure: Erasure): OwnAuditEntry {
  const {
    submission: subject,
    documents,
    person: actor,
    reason,
    reference,
    keyName,
    reportDigest,
    correctionOf,
  } = erasure;
  const details = {
    documents,
    ...(reportDigest !== undefined && { reportDigest }),
    ...(correctionOf !== undefined && { correctionOf }),
    reason,
    ...(reference !== undefined && { reference }),
    ...(keyName !== undefined && { key: keyName }),
  };
  return { actor, kind: "submission.erased", subject, details };
}

function erasureOf(
  { id, created_at: handedInAt, correction_of: correctionOf, report_digest: reportDigest }: LockedSubmission,
  documents: readonly string[],
  asked: ErasureRequest,
  erasedAt: Date,
): Erasure {
  return {
    submission: id,
    handedInAt,
    erasedAt,
    ...(correctionOf !== null && { correctionOf }),
    documents,
    ...(reportDigest !== null && { reportDigest }),
    ...asked,
  };
}

/** One event for all of them: to the endpoints, and to the receiver that was, or was to be, told of the result. */
async function tell(
  client: Queryable,
  queue: WorkQueue,
  { owner, callback_url: url, callback_secret: secret }: LockedSubmission,
  [erasure, ...corrections]: readonly Erasure[],
): Promise<readonly Job[]> {
  const { submission, erasedAt: at, reportDigest, person, reason, reference } = erasure!;
  const { jobs } = await recordEvent(client, queue, {
    owner: owner ?? "",
    type: "submission.erased",
    submission,
    at,
    data: {
      submission,
      ...(corrections.length > 0 && { corrections: corrections.map((correction) => correction.submission) }),
      ...(reportDigest !== undefined && { reportSha256: reportDigest }),
    },
    content: { person, reason, ...(reference !== undefined && { reference }) },
    ...(url !== null && secret !== null && { callback: { url, secret } }),
  });
  for (const { submission: id } of [erasure!, ...corrections]) {
    await client.query("SELECT pg_notify($1, $2)", [FINAL_CHANNEL, id]);
  }
  return jobs;
}

const DEADLOCK = "40P01";
const MOST_TRIES = 5;

/** So many rows are locked that two transactions may wait for each other; the database then ends one of them, which may try again. */
async function again<Result>(work: () => Promise<Result>): Promise<Result> {
  for (let tries = 1; ; tries++) {
    try {
      return await work();
    } catch (error) {
      if ((error as { readonly code?: string }).code !== DEADLOCK || tries === MOST_TRIES) throw error;
    }
  }
}
