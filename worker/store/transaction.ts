import type pg from "pg";

export type Queryable = Pick<pg.ClientBase, "query">;

/** Runs `work` in one transaction: all of it is committed, or none. */
export async function inTransaction<Result>(
  pool: pg.Pool,
  work: (client: Queryable) => Promise<Result>,
): Promise<Result> {
  const client = await pool.connect();
  let broken = false;
  try {
    await client.query("BEGIN");
    const result = await work(client);
    await client.query("COMMIT");
    return result;
  } catch (error) {
    // A connection that keeps silent would not answer to this either, for as long again. Losing it rolls back as well.
    broken = isSilence(error) || !(await rollBack(client));
    throw error;
  } finally {
    client.release(broken);
  }
}

/** A query without an answer for as long as may be waited for; in pg's words, which come without a code. */
export function isSilence(error: unknown): boolean {
  return error instanceof Error && error.message === "Query read timeout";
}

function rollBack(client: Queryable): Promise<boolean> {
  return client.query("ROLLBACK").then(
    () => true,
    () => false,
  );
}
