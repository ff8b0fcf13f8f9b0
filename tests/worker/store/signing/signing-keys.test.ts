import { rm } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { openPostgresQueue } from "../../../../worker/queue/postgres-queue.js";
import type { WorkQueue } from "../../../../worker/queue/queue.js";
import { listAudit } from "../../../../worker/store/audit.js";
import { faultInChain } from "../../../../worker/store/audit-chain.js";
import { type Database, openServerDatabase } from "../../../../worker/store/database.js";
import { migrate } from "../../../../worker/store/migrate.js";
import { EVERY_OWNER } from "../../../../worker/store/records.js";
import { isSignedBy } from "../../../../worker/store/signing/ed25519.js";
import { openSecrets, type Secrets } from "../../../../worker/store/signing/open-secrets.js";
import { openSigningKeys, type SigningKeys } from "../../../../worker/store/signing/signing-keys.js";
import { openRecords } from "../../../../worker/store/sql-records.js";
import { newSubmission, temporaryFolder, UNREAD_DOCUMENT } from "../../../support/invented.js";
import { startPostgres, type TestPostgres } from "../../../support/postgres.js";

// Two workers of one installation: two pools on one database, one key file.
let server: TestPostgres;
let folder: Awaited<ReturnType<typeof temporaryFolder>>;
const databases: Database[] = [];
let queue: WorkQueue;
let secrets: readonly Secrets[];
let keys: SigningKeys;

beforeAll(async () => {
  server = await startPostgres();
  folder = await temporaryFolder();
  for (let count = 0; count < 2; count++) databases.push(openServerDatabase({ url: server.url, connections: 8 }));
  await migrate(databases[0]!.pool);
  queue = openPostgresQueue(databases[0]!.pool);
  const place = { dataFolder: folder.path, sealingKeyFile: undefined };
  secrets = await Promise.all(databases.map(({ pool }) => openSecrets(pool, place)));
  keys = openSigningKeys(databases[0]!.pool, secrets[0]!.sealer);
});
afterAll(async () => {
  await queue.close();
  for (const database of databases) await database.close();
  await server.remove();
  await folder.remove();
});

/** Has one of the workers finish a submission, and gives back its stored report. */
async function finishWith(worker: number, name: string) {
  const { pool } = databases[worker]!;
  const records = openRecords(pool, queue, "https://heatgate.example", secrets[worker]!);
  const { id } = await records.createSubmission(newSubmission([UNREAD_DOCUMENT]));
  const json = JSON.stringify({ documents: [], heats: [], name });
  const heats = { fail: 0, undetermined: 0, pass: 1, "not-applicable": 0 };
  await records.finish(id, { json, digest: "ab".repeat(32), verdict: "pass", heats });
  const report = await records.getReport(id, EVERY_OWNER);
  await records.close();
  return { id, ...report!, json };
}

async function signedBy({ json, signature }: Awaited<ReturnType<typeof finishWith>>) {
  const key = (await keys.list()).find(({ id }) => id === signature.keyId)!;
  expect(isSignedBy(key.publicKey, json, Buffer.from(signature.signature, "base64url"))).toBe(true);
  return key.id;
}

test("workers that start together make one key, and sign with the same one", async () => {
  expect(await keys.list()).toHaveLength(1);
  const signers = [await signedBy(await finishWith(0, "a")), await signedBy(await finishWith(1, "b"))];
  expect(new Set(signers)).toEqual(new Set([(await keys.list())[0]!.id]));
});

test("the database takes no report without a signature", async () => {
  const { id } = await finishWith(0, "c");
  const insert = "INSERT INTO heatgate.report (submission, json, digest) VALUES ($1, '{}', 'd')";
  await databases[0]!.pool.query("DELETE FROM heatgate.report WHERE submission = $1", [id]);
  await expect(databases[0]!.pool.query(insert, [id])).rejects.toThrow(/report_is_signed/);
});

test("a new key signs from then on, in every worker; what the old one signed stays good", async () => {
  const before = await finishWith(1, "d");
  const made = await keys.rotate("M. Aurland");
  const after = await finishWith(1, "e");
  expect(await signedBy(after)).toBe(made.id);
  expect(await signedBy(before)).not.toBe(made.id);
  const [newest, older] = await keys.list();
  expect([newest?.retiredAt, older?.retiredAt]).toEqual([undefined, expect.any(Date)]);
});

test("reports that are finished while the key is replaced are signed by one that was in use", async () => {
  const finished = Promise.all(["f", "g", "h", "i"].map((name, at) => finishWith(at % 2, name)));
  await Promise.all([keys.rotate("x"), keys.rotate("y")]);
  for (const report of await finished) await signedBy(report);
  expect((await keys.list()).filter(({ retiredAt }) => !retiredAt)).toHaveLength(1);
});

test("a revoked key is followed by another, and is revoked once", async () => {
  const [current] = await keys.list();
  expect(await keys.revoke(current!.id, "M. Aurland")).toBe(true);
  expect(await keys.revoke(current!.id, "M. Aurland")).toBe(false);
  expect(await keys.revoke("nobody", "M. Aurland")).toBe(false);
  expect(await signedBy(await finishWith(0, "j"))).not.toBe(current!.id);
  expect((await keys.list()).find(({ id }) => id === current!.id)?.revokedAt).toBeInstanceOf(Date);
});

test("the service's own trail tells of every key, and the private half is nowhere to be read", async () => {
  const { pool } = databases[0]!;
  const trail = await listAudit(pool, "", 0, 1_000);
  expect(faultInChain(trail)).toBeUndefined();
  const made = trail.filter(({ kind }) => kind === "signing-key.created").map(({ subject }) => subject);
  expect(new Set(made)).toEqual(new Set((await keys.list()).map(({ id }) => id)));
  expect(trail.filter(({ kind }) => kind === "signing-key.revoked")).toMatchObject([{ actor: "M. Aurland" }]);
  const { rows } = await pool.query("SELECT sealed_private FROM heatgate.signing_key");
  expect(JSON.stringify([rows, trail])).not.toContain("PRIVATE KEY");
});

test("reports from before reports were signed are signed at the next start", async () => {
  const { id } = await finishWith(0, "k");
  const { pool } = databases[0]!;
  await pool.query("ALTER TABLE heatgate.report DROP CONSTRAINT report_is_signed");
  await pool.query("UPDATE heatgate.report SET signature = NULL, signing_key = NULL WHERE submission = $1", [id]);
  await openSecrets(pool, { dataFolder: folder.path, sealingKeyFile: undefined });
  const { rows } = await pool.query(
    "SELECT count(*)::integer AS unsigned FROM heatgate.report WHERE signature IS NULL",
  );
  expect(rows[0].unsigned).toBe(0);
});

test("a process with another sealing key, or that lost it, is told so and makes no new one", async () => {
  const other = await temporaryFolder();
  const { pool } = databases[0]!;
  const path = join(folder.path, "sealing.key");
  await expect(openSecrets(pool, { dataFolder: other.path, sealingKeyFile: undefined })).rejects.toThrow(
    /HEATGATE_SEALING_KEY_FILE/,
  );
  await expect(openSecrets(pool, { dataFolder: other.path, sealingKeyFile: path })).resolves.toBeDefined();
  await other.remove();
  await rm(path);
  await expect(openSecrets(pool, { dataFolder: folder.path, sealingKeyFile: undefined })).rejects.toThrow(/backup/);
});
