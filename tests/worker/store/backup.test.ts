import { execFileSync } from "node:child_process";
import { cp } from "node:fs/promises";
import { join } from "node:path";
import { expect, test } from "vitest";
import { readSettings } from "../../../worker/config.js";
import { createVerifier } from "../../../worker/create-verifier.js";
import { HEARTBEAT_DOCUMENT, HEARTBEAT_REQUIREMENT } from "../../../worker/heartbeat/heartbeat-document.js";
import { listAudit } from "../../../worker/store/audit.js";
import { faultInChain } from "../../../worker/store/audit-chain.js";
import { migrate } from "../../../worker/store/migrate.js";
import { openEmbedded } from "../../../worker/store/open-embedded.js";
import { openSettingsDatabase, openStores } from "../../../worker/store/open-stores.js";
import { EVERY_OWNER } from "../../../worker/store/records.js";
import type { Stores } from "../../../worker/store/stores.js";
import { embeddedFolder } from "../../support/embedded-folder.js";
import { newSubmission, storeDocument, temporaryFolder } from "../../support/invented.js";
import { postgresProgram, startPostgres } from "../../support/postgres.js";
import { startTestWorker } from "../../support/running-worker.js";

const OWNER = "tarnholm";

async function handIn(stores: Stores, folder: string): Promise<string> {
  const document = await storeDocument(stores.documents, folder, HEARTBEAT_DOCUMENT);
  const submission = newSubmission([document], { owner: OWNER, requirement: HEARTBEAT_REQUIREMENT });
  return (await stores.records.createSubmission(submission)).id;
}

async function judgeOne(stores: Stores, folder: string, id?: string) {
  const verifier = await createVerifier({ children: 1 });
  const worker = await startTestWorker(stores, verifier);
  const judged = id ?? (await handIn(stores, folder));
  expect(await stores.records.waitUntilFinal(judged, 30_000)).toMatchObject({ state: "done", verdict: "fail" });
  await worker.stop();
  await verifier.close();
  return { id: judged, ...(await stores.records.getReport(judged, EVERY_OWNER))! };
}

/** The reports are there byte for byte, and judging the same documents again gives the same bytes once more. */
async function expectRestored(
  stores: Stores,
  folder: string,
  before: { id: string; json: string; digest: string },
  unfinished: string,
): Promise<void> {
  const { id, ...report } = before;
  expect(await stores.records.getReport(id, EVERY_OWNER)).toEqual(report);
  expect((await judgeOne(stores, folder, unfinished)).digest).toBe(before.digest);
  expect(
    Buffer.from(await stores.documents.get((await stores.records.getSubmission(id))!.documents[0]!.sha256)),
  ).toEqual(Buffer.from(HEARTBEAT_DOCUMENT));
  const audit = await listAudit(stores.pool, OWNER, 0, 100);
  expect(audit.length).toBeGreaterThan(0);
  expect(faultInChain(audit)).toBeUndefined();
}

test("embedded: a copy of the stopped service's data folder has every report byte for byte, and goes on", async () => {
  const folder = await embeddedFolder();
  const stores = await openEmbedded(folder.path, "https://heatgate.example");
  const before = await judgeOne(stores, folder.path);
  const unfinished = await handIn(stores, folder.path);
  await stores.close();

  const backup = await temporaryFolder();
  await cp(folder.path, backup.path, { recursive: true });
  await folder.remove();

  const restored = await openEmbedded(backup.path, "https://heatgate.example");
  await expectRestored(restored, backup.path, before, unfinished);
  await restored.close();
  await backup.remove();
}, 120_000);

test("server: a dump taken while it runs, then the documents, and the sealing key, have every report byte for byte, and go on", async () => {
  const postgres = await startPostgres();
  const folder = await temporaryFolder();
  const settingsOf = (url: string, data: string) => readSettings({ DATABASE_URL: url, HEATGATE_DATA: data });
  const database = openSettingsDatabase(settingsOf(postgres.url, folder.path));
  await migrate(database.pool);
  const stores = await openStores(settingsOf(postgres.url, folder.path), { warn: () => {} });
  const before = await judgeOne(stores, folder.path);
  const unfinished = await handIn(stores, folder.path);

  const dump = join(folder.path, "records.dump");
  execFileSync(postgresProgram("pg_dump"), ["--format=custom", `--file=${dump}`, postgres.url]);
  const backup = await temporaryFolder();
  await cp(join(folder.path, "documents"), join(backup.path, "documents"), { recursive: true });
  await cp(join(folder.path, "sealing.key"), join(backup.path, "sealing.key"));
  await stores.close();

  await database.pool.query("CREATE DATABASE restored");
  await database.close();
  const restoredUrl = postgres.url.replace("/postgres?", "/restored?");
  execFileSync(postgresProgram("pg_restore"), ["--no-owner", `--dbname=${restoredUrl}`, dump]);
  const restored = await openStores(settingsOf(restoredUrl, backup.path), { warn: () => {} });
  await expectRestored(restored, backup.path, before, unfinished);
  await restored.close();
  await Promise.all([folder.remove(), backup.remove()]);
  await postgres.remove();
}, 120_000);
