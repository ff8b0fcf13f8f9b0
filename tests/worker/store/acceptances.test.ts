import { randomUUID } from "node:crypto";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { enterWaitingAcceptances } from "../../../worker/store/acceptances.js";
import { listAudit, lockAudit } from "../../../worker/store/audit.js";
import { faultInChain } from "../../../worker/store/audit-chain.js";
import { RequirementArchived } from "../../../worker/store/requirements.js";
import { openRequirements } from "../../../worker/store/sql-requirements.js";
import { inTransaction } from "../../../worker/store/transaction.js";
import { ENGINES, OPENING_MS, openEngine } from "../../support/engine.js";
import { newSubmission, UNREAD_DOCUMENT } from "../../support/invented.js";
import { finishedReport } from "../../support/test-api.js";

describe.each(ENGINES)("the trail of a client on %s", (engine) => {
  let stores: Awaited<ReturnType<typeof openEngine>>;
  let owner: string;
  beforeAll(async () => {
    stores = await openEngine(engine);
  }, OPENING_MS);
  beforeEach(() => {
    owner = randomUUID();
  });
  afterAll(() => stores.close());

  const create = (more = {}) =>
    stores.records.createSubmission(newSubmission([UNREAD_DOCUMENT], { owner, by: "ERP", ...more }));
  const trail = async () => {
    const entries = await listAudit(stores.pool, owner, 0, 1_000);
    expect(faultInChain(entries)).toBeUndefined();
    return entries;
  };
  const told = async () => (await trail()).map(({ kind, subject }) => [kind, subject]);

  test("says of each submission that it was accepted, from whom and what, before anything else", async () => {
    const requirement = { requirement: 1, name: "T-204", limits: [] } as const;
    const first = await create({ requirement: { ...requirement, limits: [] } });
    const second = await create();
    await stores.records.finish(second.id, finishedReport("pass"));
    await stores.records.fail(first.id, { code: "internal-fault", message: "No." });
    expect(await told()).toEqual([
      ["submission.accepted", first.id],
      ["submission.accepted", second.id],
      ["submission.done", second.id],
      ["submission.failed", first.id],
    ]);
    const [accepted] = await trail();
    expect(accepted).toMatchObject({
      actor: "ERP",
      details: {
        acceptedAt: first.createdAt.toISOString(),
        documents: [UNREAD_DOCUMENT.sha256],
        requirement: expect.stringMatching(/^[0-9a-f]{64}$/),
      },
    });
  });

  test("hears of what nobody finishes by the sweep, once, however many sweep", async () => {
    const made = [await create(), await create(), await create()];
    expect(await told()).toEqual([]);
    await Promise.all([1, 2, 3].map(() => enterWaitingAcceptances(stores.pool)));
    expect(await told()).toEqual(made.map(({ id }) => ["submission.accepted", id]));
  });

  test("has nothing of a submission that was refused, nor of one that belongs to nobody", async () => {
    await expect(create({ documents: [{ ...UNREAD_DOCUMENT, sha256: "no hash" }] })).rejects.toThrow();
    await stores.records.createSubmission(newSubmission([UNREAD_DOCUMENT]));
    await enterWaitingAcceptances(stores.pool);
    expect(await told()).toEqual([]);
  });

  // PGlite has one session, which a transaction holds for itself.
  test.skipIf(engine === "PGlite")("is not waited for by those who accept", async () => {
    await inTransaction(stores.pool, async (client) => {
      await lockAudit(client, owner);
      expect(await Promise.all([create(), create(), create()])).toHaveLength(3);
    });
  });

  test("says when a requirement is archived and restored, once each", async () => {
    const requirements = openRequirements(stores.pool);
    const requirement = { requirement: 1, name: "T-204", limits: [] } as const;
    const put = (name: string) => requirements.put(owner, "t-204", { ...requirement, limits: [], name }, "ERP");
    await put("a");
    await put("b");
    expect(await requirements.archive(owner, "unknown", "ERP")).toBeUndefined();
    expect(await requirements.archive(randomUUID(), "t-204", "ERP")).toBeUndefined();
    expect(await requirements.archive(owner, "t-204", "ERP")).toMatchObject({
      archivedAt: expect.any(Date),
      version: 2,
    });
    await requirements.archive(owner, "t-204", "ERP");
    await expect(put("c")).rejects.toThrow(RequirementArchived);
    expect(await requirements.list(owner)).toEqual([]);
    expect(await requirements.list(owner, true)).toMatchObject([{ slug: "t-204", version: 2 }]);
    expect(await requirements.versions(owner, "t-204")).toHaveLength(2);
    expect((await requirements.restore(owner, "t-204", "ERP"))?.archivedAt).toBeUndefined();
    await requirements.restore(owner, "t-204", "ERP");
    expect(await requirements.list(owner)).toHaveLength(1);
    expect((await put("c"))?.stored.version).toBe(3);
    expect(await told()).toEqual(
      ["changed", "changed", "archived", "restored", "changed"].map((what) => [`requirement.${what}`, "t-204"]),
    );
  });
});
