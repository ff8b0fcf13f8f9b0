import type pg from "pg";
import type { DocumentStore } from "./records.js";
import { inTransaction, type Queryable } from "./transaction.js";

/**
 * Bytes are shared by everybody who hands the same document in, and lie outside the database. So that nobody's are lost, they go in
 * two steps. Who erases marks them in the transaction that takes the rows away. Afterwards they are removed by whoever holds the
 * exclusive lock of their digest and finds no submission that needs them. Who accepts a document puts its bytes into the store without
 * any lock, takes the shared lock in the transaction that commits the submission, and puts them once more where they are marked.
 */
export async function markBytesErased(client: Queryable, sha256s: readonly string[]): Promise<void> {
  await client.query(
    `INSERT INTO heatgate.erased_document (sha256, asked_at) SELECT d.sha256, now() FROM unnest($1::text[]) AS d (sha256)
     ORDER BY d.sha256 ON CONFLICT (sha256) DO UPDATE SET asked_at = now(), removed_at = NULL`,
    [sha256s],
  );
}

/** Until the end of the transaction these bytes are not removed. Answers with those that are marked as erased. */
export async function lockBytes(client: Queryable, sha256s: readonly string[]): Promise<readonly string[]> {
  const { rows } = await client.query<{ marked: readonly string[] }>("SELECT heatgate.lock_bytes($1) AS marked", [
    sha256s,
  ]);
  return rows[0]!.marked;
}

/** For whoever has put the bytes into the store under `lockBytes`. */
export async function unmarkBytes(client: Queryable, sha256s: readonly string[]): Promise<void> {
  await client.query("DELETE FROM heatgate.erased_document WHERE sha256 = ANY ($1)", [sha256s]);
}

/** Under `lockBytes`: for the sake of other submissions than this one, which keep their documents, all of them are in the store. */
export async function areNeededElsewhere(
  client: Queryable,
  sha256s: readonly string[],
  submission: string,
): Promise<boolean> {
  const { rows } = await client.query<{ needed: number }>(
    `SELECT count(DISTINCT d.sha256)::integer AS needed
     FROM heatgate.document AS d JOIN heatgate.submission AS s ON s.id = d.submission
     WHERE d.sha256 = ANY ($1) AND s.id <> $2 AND s.documents_erased_at IS NULL`,
    [sha256s, submission],
  );
  return rows[0]!.needed === sha256s.length;
}

/** Bytes that are marked and still in the store, longest ago first. */
export async function listMarkedBytes(pool: pg.Pool, limit: number): Promise<readonly string[]> {
  const { rows } = await pool.query<{ sha256: string }>(
    "SELECT sha256 FROM heatgate.erased_document WHERE removed_at IS NULL ORDER BY asked_at LIMIT $1",
    [limit],
  );
  return rows.map(({ sha256 }) => sha256);
}

/** Removes marked bytes from the store, unless a submission that keeps its documents has them. True: they were removed. */
export async function removeErasedBytes(pool: pg.Pool, documents: DocumentStore, sha256: string): Promise<boolean> {
  return await inTransaction(pool, async (client) => {
    // The lock that heatgate.lock_bytes shares: of the first 64 bits. Two digests that have them in common wait for each other, no worse.
    await client.query("SELECT pg_advisory_xact_lock(('x' || left($1, 16))::bit(64)::bigint)", [sha256]);
    const { rows } = await client.query<{ is_needed: boolean }>(
      `SELECT EXISTS (
         SELECT 1 FROM heatgate.document AS d JOIN heatgate.submission AS s ON s.id = d.submission
         WHERE d.sha256 = e.sha256 AND s.documents_erased_at IS NULL) AS is_needed
       FROM heatgate.erased_document AS e WHERE e.sha256 = $1 AND e.removed_at IS NULL`,
      [sha256],
    );
    if (!rows[0]) return false;
    if (rows[0].is_needed) {
      await unmarkBytes(client, [sha256]);
      return false;
    }
    await documents.remove(sha256);
    await client.query("UPDATE heatgate.erased_document SET removed_at = now() WHERE sha256 = $1", [sha256]);
    return true;
  });
}
