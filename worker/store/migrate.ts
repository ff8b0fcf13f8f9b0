import { runMigrations as runQueueMigrations } from "bullmq";
import type pg from "pg";
import * as submissions from "./migrations/0001-submissions.js";
import * as events from "./migrations/0002-events.js";
import * as keys from "./migrations/0003-keys.js";
import * as requirements from "./migrations/0004-requirements.js";
import * as decisions from "./migrations/0005-decisions.js";
import * as heats from "./migrations/0006-heats.js";
import * as sameContent from "./migrations/0007-same-content.js";
import * as corrections from "./migrations/0008-corrections.js";
import * as evidence from "./migrations/0009-evidence.js";
import * as signatures from "./migrations/0010-signatures.js";
import * as pictures from "./migrations/0011-pictures.js";
import * as heartbeat from "./migrations/0012-heartbeat.js";
import * as endpoints from "./migrations/0013-endpoints.js";
import * as trials from "./migrations/0014-trials.js";
import * as traces from "./migrations/0015-traces.js";
import * as retention from "./migrations/0016-retention.js";
import * as acceptances from "./migrations/0017-acceptances.js";
import * as lists from "./migrations/0018-lists.js";
import * as lockBytes from "./migrations/0019-lock-bytes.js";
import * as disabledCallbacks from "./migrations/0020-disabled-callbacks.js";
import * as dropDisabledReceiver from "./migrations/0021-drop-disabled-receiver.js";
import * as ages from "./migrations/0022-ages.js";

/** In order, never changed once released: a later one undoes what must be undone. Forward only. */
export const MIGRATIONS: readonly { readonly name: string; readonly sql: string }[] = [
  { name: "0001-submissions", sql: submissions.sql },
  { name: "0002-events", sql: events.sql },
  { name: "0003-keys", sql: keys.sql },
  { name: "0004-requirements", sql: requirements.sql },
  { name: "0005-decisions", sql: decisions.sql },
  { name: "0006-heats", sql: heats.sql },
  { name: "0007-same-content", sql: sameContent.sql },
  { name: "0008-corrections", sql: corrections.sql },
  { name: "0009-evidence", sql: evidence.sql },
  { name: "0010-signatures", sql: signatures.sql },
  { name: "0011-pictures", sql: pictures.sql },
  { name: "0012-heartbeat", sql: heartbeat.sql },
  { name: "0013-endpoints", sql: endpoints.sql },
  { name: "0014-trials", sql: trials.sql },
  { name: "0015-traces", sql: traces.sql },
  { name: "0016-retention", sql: retention.sql },
  { name: "0017-acceptances", sql: acceptances.sql },
  { name: "0018-lists", sql: lists.sql },
  { name: "0019-lock-bytes", sql: lockBytes.sql },
  { name: "0020-disabled-callbacks", sql: disabledCallbacks.sql },
  { name: "0021-drop-disabled-receiver", sql: dropDisabledReceiver.sql },
  { name: "0022-ages", sql: ages.sql },
];

/** Brings our tables and the queue's to this version. Several processes may call it at once; one does the work. */
export async function migrate(pool: pg.Pool, upTo: number = MIGRATIONS.length): Promise<void> {
  const client = await pool.connect();
  try {
    await client.query("BEGIN");
    await client.query("SELECT pg_advisory_xact_lock($1)", [LOCK_KEY]);
    await client.query("CREATE SCHEMA IF NOT EXISTS heatgate");
    await client.query(
      "CREATE TABLE IF NOT EXISTS heatgate.migration (version integer PRIMARY KEY, name text NOT NULL, applied_at timestamptz NOT NULL DEFAULT now())",
    );
    const applied = await readVersion(client);
    for (const [index, migration] of MIGRATIONS.slice(0, upTo).entries()) {
      const version = index + 1;
      if (version <= applied) continue;
      await client.query(migration.sql);
      await client.query("INSERT INTO heatgate.migration (version, name) VALUES ($1, $2)", [version, migration.name]);
    }
    await client.query("COMMIT");
    await runQueueMigrations(client);
  } catch (error) {
    await client.query("ROLLBACK").catch(() => {});
    throw error;
  } finally {
    client.release();
  }
}

/** 0 where nothing was ever migrated. */
export async function schemaVersion(pool: pg.Pool): Promise<number> {
  const { rows } = await pool.query("SELECT to_regclass('heatgate.migration') IS NOT NULL AS known");
  return rows[0].known ? readVersion(pool) : 0;
}

async function readVersion(client: pg.Pool | pg.PoolClient): Promise<number> {
  const { rows } = await client.query("SELECT coalesce(max(version), 0) AS version FROM heatgate.migration");
  return rows[0].version;
}

/** "heat" in ASCII. */
const LOCK_KEY = 0x68656174;
