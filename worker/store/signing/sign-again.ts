import { createHash } from "node:crypto";
import type pg from "pg";
import { appendAudit } from "../audit.js";
import { BEFORE_ALL_IDS } from "../new-id.js";
import { inTransaction } from "../transaction.js";
import type { ReportSigner } from "./report-signer.js";

export interface SignedAgain {
  readonly signed: number;
  /** Ids of submissions whose report is not the one that the audit trail says was stored then, or that it says nothing of. */
  readonly unproven: readonly string[];
}

export class NotRevoked extends Error {
  override readonly name = "NotRevoked";
}

const BATCH = 100;

/**
 * Signs the reports of a revoked key with the one in use. The revoked signature proves nothing; that a report is the one that was made then is
 * taken from the audit trail, whose entry names its SHA-256 and whose hashes tie it to all that came later. Throws `NotRevoked`.
 */
export async function signAgain(pool: pg.Pool, sign: ReportSigner, keyId: string, by: string): Promise<SignedAgain> {
  const { rowCount } = await pool.query("SELECT 1 FROM heatgate.signing_key WHERE id = $1 AND revoked_at IS NOT NULL", [
    keyId,
  ]);
  if (rowCount === 0) throw new NotRevoked(`There is no revoked key ${keyId}.`);
  let signed = 0;
  const unproven: string[] = [];
  let after = BEFORE_ALL_IDS;
  for (let found = BATCH; found === BATCH; ) {
    found = await inTransaction(pool, async (client) => {
      const { rows } = await client.query<ReportRow>(
        `SELECT r.submission, r.json, r.digest, EXISTS (
           SELECT 1 FROM heatgate.audit AS a
           WHERE a.owner = coalesce(s.owner, '') AND a.kind = 'submission.done' AND a.subject = r.submission::text
             AND a.details->>'reportDigest' = r.digest) AS is_known
         FROM heatgate.report AS r JOIN heatgate.submission AS s ON s.id = r.submission
         WHERE r.signing_key = $1 AND r.submission > $2 ORDER BY r.submission LIMIT $3 FOR UPDATE OF r`,
        [keyId, after, BATCH],
      );
      for (const { submission, json, digest, is_known: isKnown } of rows) {
        if (!isKnown || createHash("sha256").update(json, "utf8").digest("hex") !== digest) {
          unproven.push(submission);
          continue;
        }
        const { keyId: newKey, signature } = await sign(client, json);
        await client.query("UPDATE heatgate.report SET signature = $2, signing_key = $3 WHERE submission = $1", [
          submission,
          signature,
          newKey,
        ]);
        signed++;
      }
      after = rows.at(-1)?.submission ?? after;
      return rows.length;
    });
  }
  const details = { signed, unproven: unproven.length };
  await inTransaction(pool, (client) =>
    appendAudit(client, { owner: "", actor: by, kind: "reports.signed-again", subject: keyId, details }),
  );
  return { signed, unproven };
}

interface ReportRow {
  readonly submission: string;
  readonly json: string;
  readonly digest: string;
  readonly is_known: boolean;
}
