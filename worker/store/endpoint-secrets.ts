import { LIVE_SECRETS_OF_ENDPOINT, type LiveSecret, type NewSecret, TooMany } from "./endpoints.js";
import { newId } from "./new-id.js";
import type { Sealer } from "./signing/sealer.js";
import type { Queryable } from "./transaction.js";
import { newWebhookKeyPair, newWebhookSecret } from "./webhook-secret.js";

/**
 * Gives an endpoint another secret; those that it has sign on until `oldEndAt`, or until they were to end anyway. Of a v1 it tells the
 * secret; of a v1a the private half stays here. Throws `TooMany`.
 */
export async function addSecret(
  client: Queryable,
  sealer: Sealer,
  endpoint: string,
  { kind, secret: given }: NewSecret,
  oldEndAt?: Date,
): Promise<{ readonly secret?: string }> {
  await client.query(
    `UPDATE heatgate.endpoint_secret SET ends_at = least(coalesce(ends_at, $2), $2)
     WHERE endpoint = $1 AND (ends_at IS NULL OR ends_at > now())`,
    [endpoint, oldEndAt ?? null],
  );
  const live = await client.query(`SELECT 1 FROM heatgate.endpoint_secret AS s WHERE endpoint = $1 AND ${IS_LIVE}`, [
    endpoint,
  ]);
  if (live.rows.length >= LIVE_SECRETS_OF_ENDPOINT) {
    throw new TooMany(`${LIVE_SECRETS_OF_ENDPOINT} secrets sign already; wait until one of them has ended.`);
  }
  const pair = kind === "v1a" ? newWebhookKeyPair() : undefined;
  const secret = pair?.privateKey ?? given ?? newWebhookSecret();
  await client.query(
    "INSERT INTO heatgate.endpoint_secret (id, endpoint, sealed, public_key) VALUES ($1, $2, $3, $4)",
    [newId(), endpoint, sealer.seal("webhook-secret", secret), pair?.publicKey ?? null],
  );
  return pair ? {} : { secret };
}

/** What signs now, by endpoint, newest first. */
export async function readSignatures(
  client: Queryable,
  endpoints: readonly string[],
): Promise<ReadonlyMap<string, readonly LiveSecret[]>> {
  const { rows } = await client.query<SecretRow>(
    `SELECT endpoint, public_key, created_at, ends_at FROM heatgate.endpoint_secret AS s
     WHERE endpoint = ANY ($1::uuid[]) AND ${IS_LIVE} ORDER BY created_at DESC`,
    [endpoints],
  );
  const found = new Map<string, LiveSecret[]>();
  for (const { endpoint, public_key: publicKey, created_at: createdAt, ends_at: endsAt } of rows) {
    const signature = {
      kind: publicKey === null ? ("v1" as const) : ("v1a" as const),
      ...(publicKey !== null && { publicKey }),
      createdAt,
      ...(endsAt && { endsAt }),
    };
    found.set(endpoint, [...(found.get(endpoint) ?? []), signature]);
  }
  return found;
}

const IS_LIVE = "(s.ends_at IS NULL OR s.ends_at > now())";

interface SecretRow {
  readonly endpoint: string;
  readonly public_key: string | null;
  readonly created_at: Date;
  readonly ends_at: Date | null;
}
