import { profileOf, readSettings } from "../config.js";
import { createLog } from "../log.js";
import { openEmbeddedDatabase } from "../store/database.js";
import { openSettingsDatabase, openStores } from "../store/open-stores.js";
import { replaceLostSealingKey } from "../store/signing/replace-lost-key.js";
import { createReportSigner } from "../store/signing/report-signer.js";
import { loadSealingKeys, sealingKeyPath } from "../store/signing/sealing-keys.js";
import { NotRevoked, signAgain } from "../store/signing/sign-again.js";
import { type Command, EXIT, type Terminal, UsageError, write } from "./terminal.js";

const ACTOR = "command line";

/** What an operator can do when a key was stolen or lost. */
export const signing: Command = {
  usage: `Usage: heatgate signing sign-again <key id>
       heatgate signing replace-lost-seal

sign-again          After a signing key was revoked (DELETE /v1/signing-keys/{id}) its reports prove nothing. Signs
                    those with the key in use that are, by the audit trail, the ones stored then; names the others.
                    Exit code 1 where there are others. Run heatgate audit verify first.
replace-lost-seal   The sealing key is lost for good, and the service does not start. Starts over with a new one:
                    old reports stay signed and verify with the published keys, new ones get a new signing key.
                    Webhook secrets are lost: endpoints are disabled until they are given another, and receivers
                    named by a submission are told nothing more. GET /v1/events has everything that they missed.

Both work on the store that the settings name, with the service stopped where it runs on a data folder.`,
  async run(args, terminal) {
    const [action, id, ...rest] = args;
    if (action === "sign-again" && id !== undefined && rest.length === 0) return await again(id, terminal);
    if (action === "replace-lost-seal" && id === undefined) return await replaceSeal(terminal);
    throw new UsageError("say sign-again with the id of a revoked key, or replace-lost-seal");
  },
};

async function again(keyId: string, { env, stdout, stderr }: Terminal): Promise<number> {
  const stores = await openStores(readSettings(env), createLog("error"));
  try {
    const { signed, unproven } = await signAgain(stores.pool, createReportSigner(stores.sealer), keyId, ACTOR);
    await write(stdout, `${signed} reports are signed with the key in use.\n`);
    for (const submission of unproven) {
      await write(
        stdout,
        `${submission}: not signed; the audit trail does not say that this report was stored then.\n`,
      );
    }
    return unproven.length === 0 ? EXIT.pass : EXIT.fail;
  } catch (error) {
    if (!(error instanceof NotRevoked)) throw error;
    await write(stderr, `${error.message}\n`);
    return EXIT.fail;
  } finally {
    await stores.close();
  }
}

async function replaceSeal({ env, stdout }: Terminal): Promise<number> {
  const settings = readSettings(env);
  const { HEATGATE_DATA: data, HEATGATE_SEALING_KEY_FILE: named } = settings;
  const database =
    profileOf(settings) === "embedded" ? await openEmbeddedDatabase(data) : openSettingsDatabase(settings);
  try {
    const keys = await loadSealingKeys(sealingKeyPath(data, named), named === undefined);
    const lost = await replaceLostSealingKey(database.pool, keys, ACTOR);
    await write(
      stdout,
      `The key ${keys[0]!.id} seals from now on: back its file up. ${lost.endpoints} endpoints were disabled and want a new secret; ` +
        `${lost.callbacks} submissions had a receiver of their own, which is told nothing more.\n`,
    );
    return EXIT.pass;
  } finally {
    await database.close();
  }
}
