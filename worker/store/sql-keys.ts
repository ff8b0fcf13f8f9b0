import type pg from "pg";
import { appendAudit } from "./audit.js";
import { hashKeyText, isKeyText, keyBegins, newKeyText } from "./key-text.js";
import { type KeyRecord, type Keys, LIVE_KEYS_OF_CLIENT, type NewKey, type Scope, TooManyLiveKeys } from "./keys.js";
import { isId, newId } from "./new-id.js";
import { inTransaction } from "./transaction.js";

export function openKeys(pool: pg.Pool): Keys {
  return {
    create: (key, by) => create(pool, key, by),
    authenticate: (text) => authenticate(pool, text),
    list: (client) => list(pool, client),
    revoke: (id, by, client) => revoke(pool, id, by, client),
  };
}

async function create(pool: pg.Pool, key: NewKey, by: string): Promise<{ key: string; record: KeyRecord }> {
  const text = newKeyText();
  const row = await inTransaction(pool, async (connection) => {
    // Two creations for one client at once wait for each other, or both would count one key too few.
    await connection.query("SELECT pg_advisory_xact_lock(hashtext($1))", [key.client]);
    const live = await connection.query(`SELECT 1 FROM heatgate.api_key WHERE client = $1 AND ${IS_LIVE}`, [
      key.client,
    ]);
    if (live.rows.length >= LIVE_KEYS_OF_CLIENT) {
      throw new TooManyLiveKeys(
        `${key.client} has ${LIVE_KEYS_OF_CLIENT} live keys already; revoke one of them first.`,
      );
    }
    const { rows } = await connection.query<KeyRow>(
      `INSERT INTO heatgate.api_key (id, client, name, begins, sha256, scopes, expires_at)
       VALUES ($1, $2, $3, $4, $5, $6, $7) RETURNING ${COLUMNS}`,
      [newId(), key.client, key.name, keyBegins(text), hashKeyText(text), key.scopes, key.expiresAt ?? null],
    );
    const { id, begins } = rows[0]!;
    const details = { name: key.name, begins, scopes: key.scopes, expiresAt: key.expiresAt?.toISOString() ?? null };
    await appendAudit(connection, { owner: key.client, actor: by, kind: "key.created", subject: id, details });
    return rows[0]!;
  });
  return { key: text, record: readKeyRow(row) };
}

/** The look-up is by hash, so comparing takes no time that would tell anything about a key. */
async function authenticate(pool: pg.Pool, text: string): Promise<KeyRecord | undefined> {
  if (!isKeyText(text)) return undefined;
  const { rows } = await pool.query<KeyRow>(
    `SELECT ${COLUMNS} FROM heatgate.api_key WHERE sha256 = $1 AND ${IS_LIVE}`,
    [hashKeyText(text)],
  );
  const row = rows[0];
  if (!row) return undefined;
  const isNoted = row.last_used_at !== null && Date.now() - row.last_used_at.getTime() < 60_000;
  if (!isNoted) await pool.query("UPDATE heatgate.api_key SET last_used_at = now() WHERE id = $1", [row.id]);
  return readKeyRow(row);
}

async function list(pool: pg.Pool, client?: string): Promise<readonly KeyRecord[]> {
  const { rows } = await pool.query<KeyRow>(
    `SELECT ${COLUMNS} FROM heatgate.api_key WHERE $1::text IS NULL OR client = $1 ORDER BY id`,
    [client ?? null],
  );
  return rows.map(readKeyRow);
}

async function revoke(pool: pg.Pool, id: string, by: string, ofClient?: string): Promise<boolean> {
  if (!isId(id)) return false;
  return await inTransaction(pool, async (client) => {
    const { rows } = await client.query<{ client: string; name: string }>(
      `UPDATE heatgate.api_key SET revoked_at = now()
       WHERE id = $1 AND revoked_at IS NULL AND ($2::text IS NULL OR client = $2) RETURNING client, name`,
      [id, ofClient ?? null],
    );
    if (!rows[0]) return false;
    const { client: owner, name } = rows[0];
    await appendAudit(client, { owner, actor: by, kind: "key.revoked", subject: id, details: { name } });
    return true;
  });
}

const IS_LIVE = "revoked_at IS NULL AND (expires_at IS NULL OR expires_at > now())";

const COLUMNS = "id, client, name, begins, scopes, created_at, expires_at, revoked_at, last_used_at";

interface KeyRow {
  readonly id: string;
  readonly client: string;
  readonly name: string;
  readonly begins: string;
  readonly scopes: readonly Scope[];
  readonly created_at: Date;
  readonly expires_at: Date | null;
  readonly revoked_at: Date | null;
  readonly last_used_at: Date | null;
}

function readKeyRow(row: KeyRow): KeyRecord {
  return {
    id: row.id,
    client: row.client,
    name: row.name,
    begins: row.begins,
    scopes: row.scopes,
    createdAt: row.created_at,
    ...(row.expires_at && { expiresAt: row.expires_at }),
    ...(row.revoked_at && { revokedAt: row.revoked_at }),
    ...(row.last_used_at && { lastUsedAt: row.last_used_at }),
  };
}
