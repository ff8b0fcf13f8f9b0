import { randomUUID } from "node:crypto";
import { pino } from "pino";
import { Registry } from "prom-client";
import { afterAll, beforeAll, beforeEach, describe, expect, test } from "vitest";
import { keepToTime } from "../../../worker/jobs/start-retention.js";
import { createMetrics } from "../../../worker/metrics.js";
import { listAudit } from "../../../worker/store/audit.js";
import { faultInChain } from "../../../worker/store/audit-chain.js";
import { DocumentsErased, EVERY_OWNER, type NewSubmission } from "../../../worker/store/records.js";
import { openTrials } from "../../../worker/store/sql-trials.js";
import { finishTrial } from "../../../worker/store/trial-jobs.js";
import type { RetentionDays } from "../../../worker/worker-deps.js";
import { ENGINES, OPENING_MS, openEngine } from "../../support/engine.js";
import { newSubmission, storeDocument } from "../../support/invented.js";
import { KEEP_ALL } from "../../support/running-worker.js";
import { finishedReport } from "../../support/test-api.js";

const callback = { url: "https://receiver.example/x", secret: "whsec_c2VjcmV0IHNlY3JldCBzZWNyZXQgc2VjcmV0" };

// Ten days are kept; what is called old is eleven days old, what is called young nine.
describe.each(ENGINES)("retention on %s", (engine) => {
  let stores: Awaited<ReturnType<typeof openEngine>>;
  let owner: string;
  beforeAll(async () => {
    stores = await openEngine(engine);
  }, OPENING_MS);
  beforeEach(() => {
    owner = randomUUID();
  });
  afterAll(() => stores.close());

  const keep = (days: Partial<RetentionDays>, batch = 100) =>
    keepToTime(
      { ...stores, log: pino({ level: "silent" }), metrics: createMetrics(new Registry()) },
      { ...KEEP_ALL, ...days },
      { batch },
    );
  const create = async (more: Partial<NewSubmission> = {}, text: string = randomUUID()) =>
    await stores.records.createSubmission(
      newSubmission([await storeDocument(stores.documents, stores.folder, text)], { owner, ...more }),
    );
  const finished = async (days: number, more: Partial<NewSubmission> = {}, text?: string) => {
    const submission = await create(more, text);
    await stores.records.finish(submission.id, finishedReport("pass"));
    await age(submission.id, days);
    return submission;
  };
  const age = (id: string, days: number) =>
    stores.pool.query(
      `UPDATE heatgate.submission SET created_at = now() - $2 * interval '1 day', finished_at = now() - $2 * interval '1 day'
       WHERE id = $1`,
      [id, days],
    );
  const ageRows = (table: string, where: string, days: number, ...values: unknown[]) =>
    stores.pool.query(
      `UPDATE heatgate.${table} SET created_at = now() - ${days} * interval '1 day' WHERE ${where}`,
      values,
    );
  const isThere = async ({ id }: { readonly id: string }) => (await stores.records.getSubmission(id)) !== undefined;
  const settle = (id: string) =>
    stores.pool.query(
      `UPDATE heatgate.delivery SET state = 'delivered' WHERE event IN (SELECT id FROM heatgate.event WHERE submission = $1)`,
      [id],
    );
  const bytesOf = ({ documents }: { readonly documents: readonly { readonly sha256: string }[] }) =>
    stores.documents.get(documents[0]!.sha256).then(
      () => "kept",
      () => "gone",
    );

  test("keeps everything unless it is told otherwise", async () => {
    const old = await finished(20_000);
    await keep({});
    expect([await isThere(old), await bytesOf(old)]).toEqual([true, "kept"]);
  });

  test("erases finished submissions whose time is over, with their bytes, and says so in the trail but not to receivers", async () => {
    const [old, young] = [await finished(11), await finished(9)];
    const failed = await create();
    await stores.records.fail(failed.id, { code: "internal-fault", message: "No." });
    await age(failed.id, 11);
    await keep({ submissions: 10 });
    expect(await Promise.all([old, young, failed].map(isThere))).toEqual([false, true, false]);
    expect([await bytesOf(old), await bytesOf(young)]).toEqual(["gone", "kept"]);
    expect(await stores.records.getErasure(old.id)).toMatchObject({
      person: "heatgate",
      reason: "Submissions are kept for 10 days after they were finished.",
    });
    const trail = await listAudit(stores.pool, owner, 0, 100);
    expect(faultInChain(trail)).toBeUndefined();
    expect(trail.filter(({ kind }) => kind === "submission.erased")).toHaveLength(2);
    const events = await stores.records.listEvents(owner, 0, 100);
    expect(events.map(({ type, submission }) => [type, submission])).toEqual([["submission.done", young.id]]);
  });

  test("erases nothing that is unfinished, still to be told, asked about, or being corrected", async () => {
    const unfinished = await create();
    await ageRows("submission", "id = $1", 1_000, unfinished.id);
    const untold = await finished(11, { callback });
    const asked = await finished(11);
    await openTrials(stores.pool, stores.queue).create({ kind: "grades", submission: asked.id });
    const corrected = await finished(11);
    const correction = {
      of: corrected.id,
      corrections: { corrections: 1, by: "p", date: "2026-03-09", items: [] },
    } as const;
    const correcting = await stores.records.createSubmission(
      newSubmission(corrected.documents, {
        owner,
        correction: { ...correction, corrections: { ...correction.corrections, items: [] } },
      }),
    );
    const all = [unfinished, untold, asked, corrected, correcting];
    await keep({ submissions: 10, documents: 10 });
    expect(await Promise.all(all.map(isThere))).toEqual([true, true, true, true, true]);
    expect([await bytesOf(unfinished), await bytesOf(corrected)]).toEqual(["kept", "kept"]);

    await settle(untold.id);
    await stores.records.finish(correcting.id, finishedReport("pass"));
    await keep({ submissions: 10 });
    expect(await Promise.all(all.map(isThere))).toEqual([true, false, true, true, true]);
    await age(correcting.id, 11);
    await keep({ submissions: 10 });
    expect(await Promise.all(all.map(isThere))).toEqual([true, false, true, false, false]);
  });

  test("erases the bytes alone, unless a younger submission has the same, and says so", async () => {
    const shared = randomUUID();
    const [old, alsoOld, young] = [await finished(11), await finished(11, {}, shared), await finished(9, {}, shared)];
    await keep({ documents: 10 });
    expect([await bytesOf(old), await bytesOf(young)]).toEqual(["gone", "kept"]);
    const of = async ({ id }: { readonly id: string }) => (await stores.records.getSubmission(id))?.documentsErasedAt;
    expect([await of(old), await of(alsoOld), await of(young)]).toEqual([
      expect.any(Date),
      expect.any(Date),
      undefined,
    ]);
    expect(await stores.records.getReport(old.id, EVERY_OWNER)).toBeDefined();
    const trail = await listAudit(stores.pool, owner, 0, 100);
    expect(faultInChain(trail)).toBeUndefined();
    const erased = trail.filter(({ kind }) => kind === "documents.erased");
    expect(erased.map(({ subject }) => subject).sort()).toEqual([old.id, alsoOld.id].sort());

    const corrections = { corrections: 1, by: "p", date: "2026-03-09", items: [] } as const;
    const correct = stores.records.createSubmission(
      newSubmission(old.documents, { owner, correction: { of: old.id, corrections: { ...corrections, items: [] } } }),
    );
    await expect(correct).rejects.toThrow(DocumentsErased);
  });

  test("removes old events with their deliveries, none that is still to be delivered, and says how far", async () => {
    const [told, untold, young] = [await finished(1, { callback }), await finished(1, { callback }), await finished(1)];
    await settle(told.id);
    await ageRows("event", "submission = ANY ($1)", 11, [told.id, untold.id]);
    const before = await stores.records.listEvents(owner, 0, 10);
    expect(await stores.records.eventHorizon(owner)).toBe(0);
    await keep({ events: 10 });
    const after = await stores.records.listEvents(owner, 0, 10);
    expect(after.map(({ submission }) => submission)).toEqual([untold.id, young.id]);
    expect(await stores.records.listDeliveries(told.id, EVERY_OWNER)).toEqual([]);
    expect(await stores.records.eventHorizon(owner)).toBe(before[0]!.sequence);
    expect(await stores.records.eventHorizon("somebody else")).toBe(0);
    expect(await isThere(told)).toBe(true);
  });

  test("removes answers of old dry runs and of grades met apart, and none that is being worked on", async () => {
    const { id } = await finished(1);
    const trials = openTrials(stores.pool, stores.queue);
    const run = await trials.create({ kind: "dry-run", submission: id });
    const waiting = await trials.create({ kind: "dry-run", submission: id });
    const grades = await trials.create({ kind: "grades", submission: id });
    await finishTrial(stores.pool, run.id, { result: {} });
    await finishTrial(stores.pool, grades.id, { result: {} });
    await ageRows("trial", "submission = $1", 11, id);
    const left = async () =>
      (await Promise.all([run, waiting, grades].map((trial) => trials.get(trial.id, id, owner)))).map(
        (trial) => trial?.state,
      );
    await keep({ dryRuns: 12, gradesMet: 12 });
    expect(await left()).toEqual(["done", "accepted", "done"]);
    await keep({ dryRuns: 10 });
    expect(await left()).toEqual([undefined, "accepted", "done"]);
    await keep({ gradesMet: 10 });
    expect(await left()).toEqual([undefined, "accepted", undefined]);
  });

  test("removes old idempotency keys", async () => {
    const [old, young] = [randomUUID(), randomUUID()];
    for (const key of [old, young]) await create({ idempotency: { key, fingerprint: "f" } });
    await ageRows("idempotency_key", "key = $1", 3, old);
    await keep({ idempotencyKeys: 2 });
    const { rows } = await stores.pool.query("SELECT key FROM heatgate.idempotency_key WHERE owner = $1", [owner]);
    expect(rows).toEqual([{ key: young }]);
  });

  test("several workers at once erase each once, in batches", async () => {
    const { rows: old } = await stores.pool.query<{ id: string }>(
      `INSERT INTO heatgate.submission (id, owner, state, verdict, heats, report_digest, finished_at)
       SELECT gen_random_uuid(), $1, 'done', 'pass', '{}', '0', now() - interval '11 days'
       FROM generate_series(1, 13) RETURNING id`,
      [owner],
    );
    await Promise.all([1, 2, 3].map(() => keep({ submissions: 10 }, 5)));
    await keep({ submissions: 10 }, 5);
    const { rows: left } = await stores.pool.query("SELECT id FROM heatgate.submission WHERE owner = $1", [owner]);
    expect(left).toEqual([]);
    const trail = await listAudit(stores.pool, owner, 0, 1_000);
    expect(faultInChain(trail)).toBeUndefined();
    const erased = trail.filter(({ kind }) => kind === "submission.erased").map(({ subject }) => subject);
    expect(erased.sort()).toEqual(old.map(({ id }) => id).sort());
  });

  test("bytes that the document store does not remove now are removed later, and hold up no others", async () => {
    const [old, other] = [await finished(12), await finished(11)];
    const { remove } = stores.documents;
    stores.documents.remove = async (sha256) => {
      if (sha256 === old.documents[0]!.sha256) throw new Error("away");
      await remove(sha256);
    };
    await keep({ submissions: 10 });
    expect(await Promise.all([old, other].map(isThere))).toEqual([false, false]);
    expect(await Promise.all([old, other].map(bytesOf))).toEqual(["kept", "gone"]);
    stores.documents.remove = remove;
    await keep({ submissions: 10 });
    expect(await bytesOf(old)).toBe("gone");
  });
});
