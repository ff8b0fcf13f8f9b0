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
    await client.query("ROLLBACK").catch(() => {
      broken = true;
    });
    throw error;
  } finally {
    client.release(broken);
  }
}
