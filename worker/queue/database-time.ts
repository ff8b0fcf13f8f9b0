import { createPostgresBackend } from "bullmq";

/**
 * BullMQ's backend on PostgreSQL, with every lock and every delay counted by the clock of the database. BullMQ counts them by the clock of
 * whichever process asks: a worker an hour ahead would take running jobs from all others, put a retry off until its own hour has come, and
 * leave locks behind that outlive it by an hour.
 */
export const createTimedBackend: typeof createPostgresBackend = (name, opts, factoryOpts) => {
  const backend = createPostgresBackend(name, opts, factoryOpts);
  // Private in BullMQ's types. Its version is pinned, and tests/worker/queue/wrong-clock.test.ts holds what is meant.
  const inside = backend as unknown as { query(sql: string, params: readonly unknown[]): Promise<unknown> };
  const query = inside.query.bind(backend);
  inside.query = (sql, params) => {
    // When to wake up, which the process looks up on its own clock. The one statement of these that is not told that clock.
    if (sql.includes("next_delay($1)")) return query(NEXT_DELAY, [...params, Date.now()]);
    return query(onDatabaseTime(sql), params);
  };
  return backend;
};

/** Milliseconds since 1970, as BullMQ counts, by the database's clock at the moment of asking. */
export const DATABASE_NOW_MS = "(extract(epoch FROM clock_timestamp()) * 1000)::bigint";

const NEXT_DELAY = `SELECT next_delay($1) - ${DATABASE_NOW_MS} + $2::bigint AS next_delay`;

/** Where a statement takes the time of the process that sends it. Zero times the parameter keeps it in its place. */
const GIVEN_TIMES: readonly (readonly [function_: string, parameter: string, meant: string])[] = [
  ["move_to_active", "$4", DATABASE_NOW_MS],
  ["move_to_completed_fetch", "$10", DATABASE_NOW_MS],
  ["move_to_failed_fetch", "$11", DATABASE_NOW_MS],
  ["move_stalled_jobs_to_wait", "$3", DATABASE_NOW_MS],
  ["extend_lock", "$5", DATABASE_NOW_MS],
  ["move_to_delayed", "$4", `${DATABASE_NOW_MS} + $5::bigint`],
];

const rewritten = new Map<string, string>();

function onDatabaseTime(sql: string): string {
  const known = rewritten.get(sql);
  if (known !== undefined) return known;
  const timed = rewrite(sql);
  rewritten.set(sql, timed);
  return timed;
}

function rewrite(sql: string): string {
  // It comes with comments that name parameters.
  const statement = sql.replaceAll(/^--.*$/gm, "");
  const found = GIVEN_TIMES.find(([name]) => statement.includes(`${name}(`));
  if (found) {
    const [, parameter, meant] = found;
    return replaceParameter(statement, parameter, `(${meant} + 0 * ${parameter}::bigint)`);
  }
  // Renews the locks of all that runs.
  if (statement.includes("locked_until_ms = $5::bigint + $4::bigint"))
    return replaceParameter(statement, "$5::bigint", `(${DATABASE_NOW_MS} + 0 * $5::bigint)`);
  if (statement.includes("next_signal("))
    return statement.replace(", next_delay", `, next_delay - ${DATABASE_NOW_MS} + $3::bigint AS next_delay`);
  return statement;
}

function replaceParameter(statement: string, parameter: string, by: string): string {
  return statement.replace(new RegExp(`${parameter.replace("$", "\\$")}(?!\\d)`), () => by);
}
