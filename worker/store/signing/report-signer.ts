import type { KeyObject } from "node:crypto";
import type pg from "pg";
import { inTransaction, type Queryable } from "../transaction.js";
import { openPrivateKey, signText } from "./ed25519.js";
import type { Sealer } from "./sealer.js";

/** A detached Ed25519 signature over a report's canonical bytes (RFC 8785). */
export interface ReportSignature {
  readonly keyId: string;
  /** 64 bytes, base64url. */
  readonly signature: string;
}

/** Signs within the transaction that stores the report, with the key that is in use by then. */
export type ReportSigner = (client: Queryable, json: string) => Promise<ReportSignature>;

export function createReportSigner(sealer: Sealer): ReportSigner {
  let kept: { readonly id: string; readonly key: KeyObject } | undefined;
  return async (client, json) => {
    const found = await readKeyInUse(client);
    if (kept?.id !== found.id) {
      kept = { id: found.id, key: openPrivateKey(sealer.open("signing-key", found.sealed_private)) };
    }
    return { keyId: found.id, signature: signText(kept.key, json).toString("base64url") };
  };
}

/** Each replacement of the key can leave one reader empty-handed once; keys are not replaced in rows. */
const MOST_TRIES = 10;

/**
 * Locked against revoking until the report is stored. Who waited for that lock while the key was replaced is given no row, because
 * the new key came after their statement began; asking again finds it, or meets the next replacement.
 */
async function readKeyInUse(client: Queryable): Promise<{ id: string; sealed_private: string }> {
  for (let tries = 0; tries < MOST_TRIES; tries++) {
    const { rows } = await client.query<{ id: string; sealed_private: string }>(
      "SELECT id, sealed_private FROM heatgate.signing_key WHERE retired_at IS NULL FOR SHARE",
    );
    if (rows[0]) return rows[0];
  }
  throw new Error("there is no signing key in use");
}

/** Signs reports from before reports were signed. */
export async function signUnsignedReports(pool: pg.Pool, sign: ReportSigner): Promise<void> {
  let signed: number;
  do {
    signed = await inTransaction(pool, async (client) => {
      const { rows } = await client.query<{ submission: string; json: string }>(
        `SELECT submission, json FROM heatgate.report WHERE signature IS NULL
         ORDER BY submission LIMIT $1 FOR UPDATE SKIP LOCKED`,
        [BATCH],
      );
      for (const { submission, json } of rows) {
        const { signature, keyId } = await sign(client, json);
        await client.query("UPDATE heatgate.report SET signature = $2, signing_key = $3 WHERE submission = $1", [
          submission,
          signature,
          keyId,
        ]);
      }
      return rows.length;
    });
  } while (signed === BATCH);
}

const BATCH = 100;
