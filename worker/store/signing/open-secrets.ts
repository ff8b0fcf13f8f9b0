import type pg from "pg";
import { createReportSigner, type ReportSigner, signUnsignedReports } from "./report-signer.js";
import { checkSealingKeys, createSealer, isSealed, type Sealer } from "./sealer.js";
import { loadSealingKeys, sealingKeyPath } from "./sealing-keys.js";
import { ensureSigningKey } from "./signing-keys.js";

/** What the stores need for keeping secrets and for signing. */
export interface Secrets {
  readonly sealer: Sealer;
  readonly signReport: ReportSigner;
}

export interface SecretsPlace {
  readonly dataFolder: string;
  /** Named by a setting; then it must be there. */
  readonly sealingKeyFile: string | undefined;
}

/**
 * Opens the sealing key and sees to it that there is a key to sign reports with. The signing keys are in the database, sealed, so that
 * every worker signs with the same one; the key that opens them is in a file, so that a copy of the database alone signs nothing.
 */
export async function openSecrets(pool: pg.Pool, { dataFolder, sealingKeyFile }: SecretsPlace): Promise<Secrets> {
  const path = sealingKeyPath(dataFolder, sealingKeyFile);
  // On a database that was sealed before, a new key would be of no use.
  const keys = await loadSealingKeys(path, sealingKeyFile === undefined && !(await isSealed(pool)));
  await checkSealingKeys(pool, keys, path);
  const sealer = createSealer(keys);
  await ensureSigningKey(pool, sealer);
  const signReport = createReportSigner(sealer);
  await signUnsignedReports(pool, signReport);
  return { sealer, signReport };
}
