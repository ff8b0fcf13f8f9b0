import type pg from "pg";
import { appendAudit } from "../audit.js";
import { inTransaction, type Queryable } from "../transaction.js";
import { newKeyPair } from "./ed25519.js";
import type { Sealer } from "./sealer.js";

/** A key that reports are or were signed with, as anybody may know it. */
export interface SigningKey {
  readonly id: string;
  /** `x` of its JWK. */
  readonly publicKey: string;
  readonly createdAt: Date;
  /** It signs nothing since; what it signed before stays good. */
  readonly retiredAt?: Date;
  /** It got into wrong hands: nothing that it signed proves anything. */
  readonly revokedAt?: Date;
}

export interface SigningKeys {
  /** Newest first. */
  list(): Promise<readonly SigningKey[]>;
  /** Makes a key that signs from now on, and retires the one before. */
  rotate(by: string): Promise<SigningKey>;
  /** Where it was the one in use, a new one takes over. False: there is no such key that is still trusted. */
  revoke(id: string, by: string): Promise<boolean>;
}

export function openSigningKeys(pool: pg.Pool, sealer: Sealer): SigningKeys {
  return {
    async list() {
      const { rows } = await pool.query<KeyRow>(`SELECT ${COLUMNS} FROM heatgate.signing_key ORDER BY created_at DESC`);
      return rows.map(readKeyRow);
    },
    rotate: (by) => inTransaction(pool, (client) => makeKey(client, sealer, by)),
    revoke: (id, by) =>
      inTransaction(pool, async (client) => {
        await lockKeys(client);
        const { rows } = await client.query<{ was_used: boolean }>(
          `UPDATE heatgate.signing_key AS k SET revoked_at = now(), retired_at = coalesce(k.retired_at, now())
           FROM heatgate.signing_key AS before WHERE k.id = $1 AND before.id = k.id AND k.revoked_at IS NULL
           RETURNING before.retired_at IS NULL AS was_used`,
          [id],
        );
        if (!rows[0]) return false;
        await appendAudit(client, { owner: "", actor: by, kind: "signing-key.revoked", subject: id, details: {} });
        if (rows[0].was_used) await makeKey(client, sealer, by);
        return true;
      }),
  };
}

/** Makes the first key, unless there is one. Several processes may start on a new database at once. */
export async function ensureSigningKey(pool: pg.Pool, sealer: Sealer): Promise<void> {
  await inTransaction(pool, async (client) => {
    await lockKeys(client);
    const { rowCount } = await client.query("SELECT 1 FROM heatgate.signing_key WHERE retired_at IS NULL");
    if (rowCount === 0) await makeKey(client, sealer, "heatgate");
  });
}

async function makeKey(client: Queryable, sealer: Sealer, by: string): Promise<SigningKey> {
  await lockKeys(client);
  await client.query("UPDATE heatgate.signing_key SET retired_at = now() WHERE retired_at IS NULL");
  const { id, publicKey, privateKey } = newKeyPair();
  const { rows } = await client.query<KeyRow>(
    `INSERT INTO heatgate.signing_key (id, public_key, sealed_private, created_at)
     VALUES ($1, $2, $3, clock_timestamp()) RETURNING ${COLUMNS}`,
    [id, publicKey, sealer.seal("signing-key", privateKey)],
  );
  await appendAudit(client, { owner: "", actor: by, kind: "signing-key.created", subject: id, details: { publicKey } });
  return readKeyRow(rows[0]!);
}

async function lockKeys(client: Queryable): Promise<void> {
  await client.query("SELECT pg_advisory_xact_lock($1)", [SIGNING_KEY_LOCK]);
}

/** "sign" in ASCII. */
const SIGNING_KEY_LOCK = 0x7369676e;

const COLUMNS = "id, public_key, created_at, retired_at, revoked_at";

interface KeyRow {
  readonly id: string;
  readonly public_key: string;
  readonly created_at: Date;
  readonly retired_at: Date | null;
  readonly revoked_at: Date | null;
}

function readKeyRow(row: KeyRow): SigningKey {
  return {
    id: row.id,
    publicKey: row.public_key,
    createdAt: row.created_at,
    ...(row.retired_at && { retiredAt: row.retired_at }),
    ...(row.revoked_at && { revokedAt: row.revoked_at }),
  };
}
