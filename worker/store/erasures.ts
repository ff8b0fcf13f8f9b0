import type pg from "pg";
import { isId } from "./new-id.js";
import { type Erasure, SubmissionErased } from "./records.js";
import type { Queryable } from "./transaction.js";

export async function insertErasure(client: Queryable, owner: string, erasure: Erasure): Promise<void> {
  await client.query(
    `INSERT INTO heatgate.erasure
       (submission, owner, handed_in_at, correction_of, documents, report_digest, erased_at, person, key_name, reason, reference)
     VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11)`,
    [
      erasure.submission,
      owner === "" ? null : owner,
      erasure.handedInAt,
      erasure.correctionOf ?? null,
      erasure.documents,
      erasure.reportDigest ?? null,
      erasure.erasedAt,
      erasure.person,
      erasure.keyName ?? null,
      erasure.reason,
      erasure.reference ?? null,
    ],
  );
}

export async function getErasure(client: Queryable, id: string, owner?: string): Promise<Erasure | undefined> {
  if (!isId(id)) return undefined;
  const { rows } = await client.query<ErasureRow>(
    "SELECT * FROM heatgate.erasure WHERE submission = $1 AND ($2::text IS NULL OR owner = $2)",
    [id, owner ?? null],
  );
  return rows[0] && readErasureRow(rows[0]);
}

interface ErasureRow {
  readonly submission: string;
  readonly handed_in_at: Date;
  readonly correction_of: string | null;
  readonly documents: readonly string[];
  readonly report_digest: string | null;
  readonly erased_at: Date;
  readonly person: string;
  readonly key_name: string | null;
  readonly reason: string;
  readonly reference: string | null;
}

function readErasureRow(row: ErasureRow): Erasure {
  return {
    submission: row.submission,
    handedInAt: row.handed_in_at,
    erasedAt: row.erased_at,
    ...(row.correction_of !== null && { correctionOf: row.correction_of }),
    documents: row.documents,
    ...(row.report_digest !== null && { reportDigest: row.report_digest }),
    person: row.person,
    ...(row.key_name !== null && { keyName: row.key_name }),
    reason: row.reason,
    ...(row.reference !== null && { reference: row.reference }),
  };
}

const FOREIGN_KEY_VIOLATION = "23503";

/**
 * Runs what adds to a submission that was there a moment ago. Throws `SubmissionErased` where it was erased in between, which the
 * database notices by the foreign key.
 */
export async function whileKept<Result>(
  pool: pg.Pool,
  submission: string,
  work: () => Promise<Result>,
): Promise<Result> {
  try {
    return await work();
  } catch (error) {
    const { code, constraint = "" } = error as { readonly code?: string; readonly constraint?: string };
    if (code !== FOREIGN_KEY_VIOLATION || !/_(submission|correction_of)_fkey$/.test(constraint)) throw error;
    throw new SubmissionErased(await getErasure(pool, submission));
  }
}
