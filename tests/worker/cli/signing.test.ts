import { rm } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { runCommand } from "../../../worker/cli/run-command.js";
import { openEmbedded } from "../../../worker/store/open-embedded.js";
import { EVERY_OWNER } from "../../../worker/store/records.js";
import { isSignedBy } from "../../../worker/store/signing/ed25519.js";
import { openSigningKeys } from "../../../worker/store/signing/signing-keys.js";
import { openEndpoints } from "../../../worker/store/sql-endpoints.js";
import type { Stores } from "../../../worker/store/stores.js";
import { embeddedFolder } from "../../support/embedded-folder.js";
import { newSubmission, UNREAD_DOCUMENT } from "../../support/invented.js";
import { finishedReport } from "../../support/test-api.js";
import { capturedTerminal } from "./captured-terminal.js";

let folder: Awaited<ReturnType<typeof embeddedFolder>>;
beforeAll(async () => {
  folder = await embeddedFolder();
});
afterAll(() => folder.remove());

const OWNER = "tarnholm";

async function run(...args: string[]) {
  const terminal = capturedTerminal({ env: { HEATGATE_DATA: folder.path }, folder: folder.path });
  const code = await runCommand(args, terminal.terminal);
  return { code, out: terminal.stdout().toString("utf8"), err: terminal.stderr() };
}

async function withStores<Result>(use: (stores: Stores) => Promise<Result>): Promise<Result> {
  const stores = await openEmbedded(folder.path, "https://heatgate.example");
  try {
    return await use(stores);
  } finally {
    await stores.close();
  }
}

async function judged(stores: Stores, more = {}): Promise<string> {
  const { id } = await stores.records.createSubmission(newSubmission([UNREAD_DOCUMENT], { owner: OWNER, ...more }));
  await stores.records.finish(id, finishedReport("pass"));
  return id;
}

/** By the keys as they are published. */
async function isTrusted({ pool, records, sealer }: Stores, id: string): Promise<boolean> {
  const { json, signature } = (await records.getReport(id, EVERY_OWNER))!;
  const keys = await openSigningKeys(pool, sealer).list();
  const key = keys.find((candidate) => candidate.id === signature.keyId)!;
  return !key.revokedAt && isSignedBy(key.publicKey, json, Buffer.from(signature.signature, "base64url"));
}

test("a revoked key's reports are signed again as far as the audit trail proves them", async () => {
  const { revoked, proven, changed } = await withStores(async (stores) => {
    const [proven, changed] = [await judged(stores), await judged(stores)];
    // By somebody who had the database and the stolen key.
    const json = finishedReport("fail");
    await stores.pool.query("UPDATE heatgate.report SET json = $2, digest = $3 WHERE submission = $1", [
      changed,
      json.json,
      json.digest,
    ]);
    const keys = openSigningKeys(stores.pool, stores.sealer);
    const [{ id: revoked } = { id: "" }] = await keys.list();
    await keys.revoke(revoked, "tests");
    expect(await isTrusted(stores, proven)).toBe(false);
    return { revoked, proven, changed };
  });
  const done = await run("signing", "sign-again", revoked);
  expect(done.code).toBe(1);
  expect(done.out).toBe(
    `1 reports are signed with the key in use.\n${changed}: not signed; the audit trail does not say that this report was stored then.\n`,
  );
  await withStores(async (stores) => {
    expect([await isTrusted(stores, proven), await isTrusted(stores, changed)]).toEqual([true, false]);
    const inUse = (await openSigningKeys(stores.pool, stores.sealer).list()).find(({ retiredAt }) => !retiredAt)!;
    await stores.pool.query("DELETE FROM heatgate.submission WHERE id = $1", [changed]);
    return inUse.id;
  }).then(async (inUse) => {
    expect(await run("signing", "sign-again", inUse)).toMatchObject({
      code: 1,
      err: expect.stringContaining("no revoked key"),
    });
  });
  expect((await run("audit", "verify")).code).toBe(0);
}, 120_000);

test("where the sealing key is lost the service starts over, and what was signed stays good", async () => {
  const callback = { url: "https://receiver.example/x", secret: "whsec_c2VjcmV0IHNlY3JldCBzZWNyZXQgc2VjcmV0" };
  const before = await withStores(async (stores) => {
    const settings = { url: "https://receiver.example/all", description: "", body: "thin" } as const;
    const { endpoint } = await openEndpoints(stores).create(OWNER, settings, { kind: "v1" }, "tests");
    const idempotency = { key: "k", fingerprint: "f" };
    return { endpoint: endpoint.id, report: await judged(stores, { callback, idempotency }) };
  });
  expect(await run("signing", "replace-lost-seal")).toMatchObject({
    code: 2,
    err: expect.stringContaining("nothing is lost"),
  });

  await rm(join(folder.path, "sealing.key"));
  await expect(withStores(async () => {})).rejects.toThrow(/replace-lost-seal/);
  const done = await run("signing", "replace-lost-seal");
  expect(done).toMatchObject({ code: 0, out: expect.stringMatching(/1 endpoints .* 1 submissions/) });

  await withStores(async (stores) => {
    expect(await isTrusted(stores, before.report)).toBe(true);
    const later = await judged(stores);
    expect(await isTrusted(stores, later)).toBe(true);
    const [old, young] = [
      await stores.records.getReport(before.report, EVERY_OWNER),
      await stores.records.getReport(later, EVERY_OWNER),
    ];
    expect(young!.signature.keyId).not.toBe(old!.signature.keyId);

    const kept = await stores.records.findByIdempotencyKey(OWNER, "k");
    expect([kept?.submission?.callbackUrl, kept?.callbackSecret]).toEqual([undefined, undefined]);
    const endpoints = openEndpoints(stores);
    expect(await endpoints.get(OWNER, before.endpoint)).toMatchObject({ state: "disabled" });
    await endpoints.rotateSecret(OWNER, before.endpoint, { kind: "v1" }, new Date(), "tests");
    expect(await endpoints.update(OWNER, before.endpoint, { state: "active" }, "tests")).toMatchObject({
      state: "active",
    });
    const { rows } = await stores.pool.query("SELECT id FROM heatgate.delivery WHERE url IS NOT NULL");
    expect(rows).toEqual([]);
  });
  expect((await run("audit", "verify")).code).toBe(0);
}, 120_000);
