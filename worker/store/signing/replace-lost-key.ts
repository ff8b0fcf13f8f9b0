import type pg from "pg";
import { appendAudit } from "../audit.js";
import { disableEndpoint } from "../endpoint-health.js";
import { inTransaction, type Queryable } from "../transaction.js";
import { BadSealingKey, type SealingKey } from "./sealing-keys.js";

/** What could not be saved. */
export interface Lost {
  /** Registered receivers whose secrets are gone: disabled, until their owner gives them another. */
  readonly endpoints: number;
  /** Submissions whose own receiver is told nothing any more. */
  readonly callbacks: number;
}

/**
 * Starts over with another sealing key where the one that sealed this database's secrets is lost for good. Reports keep their signatures, which
 * the published keys verify as before; the private half of the signing key is lost, so that it is retired and the next start makes another.
 * Throws `BadSealingKey` where nothing is lost.
 */
export async function replaceLostSealingKey(pool: pg.Pool, keys: readonly SealingKey[], by: string): Promise<Lost> {
  const current = keys[0]!.id;
  const known = keys.map(({ id }) => id);
  return await inTransaction(pool, async (client) => {
    const { rows } = await client.query<{ key_id: string }>("SELECT key_id FROM heatgate.sealing FOR UPDATE");
    const lost = rows[0]?.key_id;
    if (lost === undefined || known.includes(lost)) {
      throw new BadSealingKey("The sealing key opens the secrets in this database: nothing is lost.");
    }
    await client.query("UPDATE heatgate.sealing SET key_id = $1", [current]);
    await client.query(
      `UPDATE heatgate.signing_key AS k SET retired_at = now() WHERE retired_at IS NULL AND ${isLost("k.sealed_private")}`,
      [known],
    );
    const callbacks = await forgetCallbacks(client, known);
    const endpoints = await disableEndpoints(client, known, by);
    const details = { lost, new: current, endpoints, callbacks };
    await appendAudit(client, { owner: "", actor: by, kind: "sealing-key.replaced", subject: current, details });
    return { endpoints, callbacks };
  });
}

/** $1: the ids of the keys that are there. */
function isLost(sealed: string): string {
  return `(${sealed} LIKE 'sealed1:%' AND split_part(${sealed}, ':', 2) <> ALL ($1::text[]))`;
}

/** What cannot be signed must not be sent. */
async function forgetCallbacks(client: Queryable, known: readonly string[]): Promise<number> {
  await client.query(`DELETE FROM heatgate.delivery AS d WHERE ${isLost("d.secret")}`, [known]);
  const { rowCount } = await client.query(
    `UPDATE heatgate.submission AS s SET callback_url = NULL, callback_secret = NULL WHERE ${isLost("s.callback_secret")}`,
    [known],
  );
  return rowCount ?? 0;
}

/** Jobs come by the sweep. */
const NO_QUEUE = { addWithin: async () => {} };

async function disableEndpoints(client: Queryable, known: readonly string[], by: string): Promise<number> {
  const { rows } = await client.query<{ endpoint: string }>(
    `DELETE FROM heatgate.endpoint_secret AS s WHERE ${isLost("s.sealed")} RETURNING endpoint`,
    [known],
  );
  const endpoints = [...new Set(rows.map(({ endpoint }) => endpoint))].sort();
  for (const endpoint of endpoints) await disableEndpoint(client, NO_QUEUE, endpoint, "asked", by);
  return endpoints.length;
}
