import { afterAll, beforeAll, expect, test } from "vitest";
import { type Database, openServerDatabase } from "../../../worker/store/database.js";
import { MIGRATIONS, migrate, schemaVersion } from "../../../worker/store/migrate.js";
import { getSubmission as readSubmission } from "../../../worker/store/submissions.js";
import { startPostgres, type TestPostgres } from "../../support/postgres.js";

let server: TestPostgres;
let admin: Database;

beforeAll(async () => {
  server = await startPostgres();
  admin = openServerDatabase({ url: server.url, connections: 2 });
});
afterAll(async () => {
  await admin.close();
  await server.remove();
});

async function emptyDatabase(name: string): Promise<Database> {
  await admin.pool.query(`CREATE DATABASE ${name}`);
  return openServerDatabase({ url: server.url.replace("/postgres?", `/${name}?`), connections: 4 });
}

/** Everything that a later statement could stumble over: columns, types, defaults, indexes, constraints. */
async function describeSchema({ pool }: Database): Promise<unknown> {
  const columns = await pool.query(
    `SELECT table_name, column_name, data_type, is_nullable, column_default FROM information_schema.columns
     WHERE table_schema = 'heatgate' ORDER BY 1, 2`,
  );
  const indexes = await pool.query("SELECT indexdef FROM pg_indexes WHERE schemaname = 'heatgate' ORDER BY 1");
  const constraints = await pool.query(
    `SELECT conrelid::regclass::text, pg_get_constraintdef(oid) FROM pg_constraint
     WHERE connamespace = 'heatgate'::regnamespace ORDER BY 1, 2`,
  );
  return [columns.rows, indexes.rows, constraints.rows];
}

test("an empty database has version 0", async () => {
  const database = await emptyDatabase("untouched");
  expect(await schemaVersion(database.pool)).toBe(0);
  await database.close();
});

test.each(MIGRATIONS.map((_, version) => [version]))(
  "version %i comes to the same schema as a new database, and keeps what it had",
  async (from) => {
    const [old, fresh] = [await emptyDatabase(`from_${from}`), await emptyDatabase(`fresh_${from}`)];
    await migrate(old.pool, from);
    expect(await schemaVersion(old.pool)).toBe(from);
    if (from > 0) await keepOne(old, from);
    await migrate(old.pool);
    if (from > 0)
      expect((await readSubmission(old.pool, KEPT))?.documents).toMatchObject([{ name: "a.csv", bytes: 1 }]);
    await migrate(fresh.pool);
    expect(await schemaVersion(old.pool)).toBe(MIGRATIONS.length);
    expect(await describeSchema(old)).toEqual(await describeSchema(fresh));
    await Promise.all([old.close(), fresh.close()]);
  },
);

const KEPT = "0199d3a0-0000-7000-8000-000000000001";

/** A finished submission, in the columns that every version has. */
async function keepOne({ pool }: Database, version: number): Promise<void> {
  await pool.query(
    `INSERT INTO heatgate.submission (id, owner, state, verdict, heats, report_digest) VALUES ($1, 'tarnholm', 'done', 'pass', '{}', '0')`,
    [KEPT],
  );
  await pool.query("INSERT INTO heatgate.document VALUES ($1, 0, 'a.csv', repeat('0', 64), 1, 'text/csv')", [KEPT]);
  // From version 10 on a report is not kept without its signature.
  if (version < 10)
    await pool.query(`INSERT INTO heatgate.report VALUES ($1, '{"heats":[],"documents":[]}', '0')`, [KEPT]);
}

test("processes that start together migrate once", async () => {
  const database = await emptyDatabase("together");
  await Promise.all([migrate(database.pool), migrate(database.pool), migrate(database.pool)]);
  await migrate(database.pool);
  expect(await schemaVersion(database.pool)).toBe(MIGRATIONS.length);
  await database.close();
});

test("cast analyses of reports from before are taken over: what later submissions are held against", async () => {
  const database = await emptyDatabase("cast_kept");
  await migrate(database.pool, 8);
  const submission = "0197b2c4-0000-7000-8000-000000000001";
  const evidence = { document: 0, sheet: "Analysis", cell: "D7" };
  const readings = [
    { quantity: "C", value: "0.021", printed: "0,021", unit: "%", confidence: 1, evidence },
    { quantity: "Mn", value: "1.62", printed: "1,62", unit: "%", confidence: 0.5, evidence },
    { quantity: "A50", value: "54", printed: "54", unit: "%", confidence: 1, evidence },
    { quantity: "Rm", value: "604", printed: "604", unit: "MPa", confidence: 1, evidence },
  ];
  const report = { documents: [{ name: "a.xlsx", sha256: "ab", issuer: "Norrvik" }], heats: [{ readings }] };
  await database.pool.query("INSERT INTO heatgate.submission (id) VALUES ($1)", [submission]);
  await database.pool.query("INSERT INTO heatgate.report VALUES ($1, $2, 'd')", [submission, JSON.stringify(report)]);
  await database.pool.query("INSERT INTO heatgate.heat VALUES ($1, 0, '', 'N1', 'N1', 'pass', '{}')", [submission]);
  await migrate(database.pool);
  const { rows } = await database.pool.query("SELECT cast_analysis FROM heatgate.heat");
  expect(rows[0].cast_analysis).toEqual([
    {
      quantity: "C",
      value: "0.021",
      printed: "0,021",
      submission,
      document: { name: "a.xlsx", sha256: "ab", issuer: "Norrvik" },
      place: { sheet: "Analysis", cell: "D7" },
    },
  ]);
  await database.close();
});
