import { randomUUID } from "node:crypto";
import { afterAll, beforeAll, describe, expect, test, vi } from "vitest";
import type { SpotPicture } from "../../../core/report/spot-picture.js";
import { openPostgresQueue } from "../../../worker/queue/postgres-queue.js";
import type { WorkQueue } from "../../../worker/queue/queue.js";
import { listOverdueDeliveryJobs, listUnfinishedJobs } from "../../../worker/store/backlog.js";
import { type Database, openEmbeddedDatabase, openServerDatabase } from "../../../worker/store/database.js";
import { recordAttempt } from "../../../worker/store/deliveries.js";
import { claimDelivery } from "../../../worker/store/due-delivery.js";
import { migrate } from "../../../worker/store/migrate.js";
import { BadCursor, EVERY_OWNER, IdempotencyKeyReused, type Records } from "../../../worker/store/records.js";
import { openSecrets } from "../../../worker/store/signing/open-secrets.js";
import type { Sealer } from "../../../worker/store/signing/sealer.js";
import { openRecords } from "../../../worker/store/sql-records.js";
import { embeddedFolder } from "../../support/embedded-folder.js";
import { newSubmission, temporaryFolder, UNREAD_DOCUMENT } from "../../support/invented.js";
import { startPostgres } from "../../support/postgres.js";

const RESULT = {
  json: '{"report":1,"documents":[],"heats":[]}',
  digest: "ab".repeat(32),
  verdict: "pass",
  heats: { fail: 0, undetermined: 0, pass: 1, "not-applicable": 0 },
} as const;

// One contract, two databases. Nobody works on the queue here, so that every state can be looked at.
describe.each([["PGlite"], ["PostgreSQL"]] as const)("records on %s", (engine) => {
  let database: Database;
  let queue: WorkQueue;
  let records: Records;
  let sealer: Sealer;
  const cleanUp: (() => Promise<void>)[] = [];

  beforeAll(async () => {
    if (engine === "PGlite") {
      const folder = await embeddedFolder();
      cleanUp.push(folder.remove);
      database = await openEmbeddedDatabase(folder.path);
    } else {
      const server = await startPostgres();
      cleanUp.push(() => server.remove());
      database = openServerDatabase({ url: server.url, connections: 10 });
    }
    await migrate(database.pool);
    queue = openPostgresQueue(database.pool);
    const keys = await temporaryFolder();
    cleanUp.push(keys.remove);
    const secrets = await openSecrets(database.pool, { dataFolder: keys.path, sealingKeyFile: undefined });
    sealer = secrets.sealer;
    records = openRecords(database.pool, queue, "https://heatgate.example", secrets);
  });
  afterAll(async () => {
    await records.close();
    await queue.close();
    await database.close();
    for (const step of cleanUp) await step();
  });

  const create = (more: Parameters<typeof newSubmission>[1] = {}) =>
    records.createSubmission(newSubmission([UNREAD_DOCUMENT], more));
  const attemptDeps = () => ({ pool: database.pool, queue, disableAfterMs: 3_600_000 });
  const callback = { url: "https://receiver.example/x", secret: "whsec_c2VjcmV0IHNlY3JldCBzZWNyZXQgc2VjcmV0" };

  test("keeps the pictures of a report with it, once, and loses them with the submission", async () => {
    const pictures: SpotPicture[] = [
      {
        spot: { document: 0, page: 1, box: [1, 2.5, 3, 4] },
        picture: { png: "A".repeat(400_000), widthPx: 2, heightPx: 1 },
      },
      { spot: { document: 0, page: 2, box: [1, 2, 3, 4] }, picture: "not-made" },
    ];
    const { id } = await create();
    expect(await records.getPictures(id, EVERY_OWNER)).toEqual([]);
    await records.finish(id, { ...RESULT, pictures });
    await records.finish(id, { ...RESULT, pictures: [] });
    expect(await records.getPictures(id, EVERY_OWNER)).toEqual(pictures);
    expect(await records.getPictures("no id", EVERY_OWNER)).toEqual([]);
    await database.pool.query("DELETE FROM heatgate.event WHERE submission = $1", [id]);
    await database.pool.query("DELETE FROM heatgate.submission WHERE id = $1", [id]);
    expect(await records.getPictures(id, EVERY_OWNER)).toEqual([]);
  });

  test("keeps a submission as it was handed in", async () => {
    const requirement = {
      requirement: 1,
      name: "T-204",
      limits: [{ quantity: "C", max: "0.030", unit: "%" }],
    } as const;
    const second = { ...UNREAD_DOCUMENT, name: 'Prüfbericht "2".pdf' };
    const kept = await records.createSubmission({
      owner: "key-1",
      requirement: { ...requirement, limits: [...requirement.limits] },
      documents: [UNREAD_DOCUMENT, second],
      tags: { order: "4711" },
      callback,
    });
    expect(await records.getSubmission(kept.id)).toEqual({
      id: kept.id,
      state: "accepted",
      owner: "key-1",
      createdAt: expect.any(Date),
      requirement,
      documents: [UNREAD_DOCUMENT, second],
      tags: { order: "4711" },
      callbackUrl: callback.url,
    });
  });

  test("an unknown id and a text that is no id are both nobody", async () => {
    expect(await records.getSubmission(randomUUID())).toBeUndefined();
    expect(await records.getSubmission("'; drop table")).toBeUndefined();
    expect(await records.getReport("x", EVERY_OWNER)).toBeUndefined();
    expect(await records.listDeliveries("x", EVERY_OWNER)).toEqual([]);
    expect(await records.waitUntilFinal(randomUUID(), 60_000)).toBeUndefined();
  });

  test("submission and job are one commit: a refused submission leaves neither", async () => {
    const before = await queue.countJobs("judge");
    const noHash = { ...UNREAD_DOCUMENT, sha256: "not a hash" };
    await expect(records.createSubmission(newSubmission([noHash]))).rejects.toThrow();
    expect(await queue.countJobs("judge")).toEqual(before);
    await create();
    expect(await queue.countJobs("judge")).toBe(before + 1);
  });

  test("an idempotency key leads to one submission, however often and however parallel", async () => {
    const idempotency = { key: randomUUID(), fingerprint: "f1" };
    const made = await Promise.all([1, 2, 3, 4].map(() => create({ idempotency })));
    expect(new Set(made.map(({ id }) => id)).size).toBe(1);
    expect((await create({ idempotency })).id).toBe(made[0]!.id);
    expect((await records.findByIdempotencyKey(undefined, idempotency.key))?.submission?.id).toBe(made[0]!.id);
    await expect(create({ idempotency: { ...idempotency, fingerprint: "f2" } })).rejects.toThrow(IdempotencyKeyReused);
    expect((await create({ idempotency, owner: "somebody else" })).id).not.toBe(made[0]!.id);
  });

  test("finish stores report, state and event once; a second result changes nothing", async () => {
    const { id } = await create();
    expect(await records.markWorking(id, 3)).toBe("started");
    await Promise.all([records.finish(id, RESULT), records.finish(id, { ...RESULT, digest: "cd".repeat(32) })]);
    await records.fail(id, { code: "late", message: "Too late." });

    const done = await records.getSubmission(id);
    expect(done).toMatchObject({ state: "done", verdict: "pass", heats: RESULT.heats });
    expect((await records.getReport(id, EVERY_OWNER))?.digest).toBe(done?.reportDigest);
    const events = (await records.listEvents(undefined, 0, 100)).filter(({ submission }) => submission === id);
    expect(events).toHaveLength(1);
    expect(JSON.parse(events[0]!.body)).toMatchObject({
      type: "submission.done",
      sequence: events[0]!.sequence,
      timestamp: done!.finishedAt!.toISOString(),
      data: { submission: id, report: { sha256: done!.reportDigest } },
    });
    expect(await records.markWorking(id, 3)).toBe("final");
  });

  test("starts are counted until they are too many; one that ended is taken back", async () => {
    const { id } = await create();
    expect(await records.markWorking(id, 3)).toBe("started");
    expect(await records.markWorking(id, 3)).toBe("started");
    await records.markInterrupted(id);
    expect(await records.markWorking(id, 3)).toBe("started");
    expect(await records.markWorking(id, 3)).toBe("started");
    expect(await records.markWorking(id, 3)).toBe("given-up");
    expect(await records.markWorking(randomUUID(), 3)).toBe("unknown");
  });

  test("waiting ends when another part of the service makes it final", async () => {
    const { id } = await create();
    const waiting = records.waitUntilFinal(id, 60_000);
    await records.fail(id, { code: "given-up", message: "No." });
    expect(await waiting).toMatchObject({ state: "failed", failure: { code: "given-up", message: "No." } });
  });

  test("waiting ends when the time is over", async () => {
    const { id } = await create();
    expect(await records.waitUntilFinal(id, 5)).toMatchObject({ state: "accepted" });
  });

  test("a walk through the list sees each once while new ones arrive, newest first", async () => {
    const owner = randomUUID();
    const made: string[] = [];
    for (let count = 0; count < 5; count++) made.push((await create({ owner })).id);
    const seen: string[] = [];
    let cursor: string | undefined;
    do {
      const page = await records.listSubmissions({ owner }, 2, cursor);
      seen.push(...page.items.map(({ id }) => id));
      cursor = page.next;
      await create({ owner });
    } while (cursor);
    expect(seen).toEqual(made.reverse());
    await expect(records.listSubmissions({}, 2, "made up")).rejects.toThrow(BadCursor);
  });

  test("the list is narrowed by state, verdict, tags and time", async () => {
    const owner = randomUUID();
    const done = await create({ owner, tags: { order: "1", site: "north" } });
    const waiting = await create({ owner, tags: { order: "2", site: "north" } });
    await records.finish(done.id, RESULT);
    const ids = async (filter: object) =>
      (await records.listSubmissions({ owner, ...filter }, 10)).items.map(({ id }) => id);
    expect(await ids({ state: "done" })).toEqual([done.id]);
    expect(await ids({ verdict: "fail" })).toEqual([]);
    expect(await ids({ tags: { site: "north" } })).toEqual([waiting.id, done.id]);
    expect(await ids({ tags: { site: "north", order: "2" } })).toEqual([waiting.id]);
    expect(await ids({ createdFrom: new Date(Date.now() + 60_000) })).toEqual([]);
    expect(await ids({ createdBefore: new Date(Date.now() + 60_000) })).toHaveLength(2);
  });

  // PGlite has the clock of its process.
  test.skipIf(engine === "PGlite")(
    "a clock too far from the database's is no readiness; one not too far hides nothing from lists by date",
    async () => {
      await records.check();
      const clock = vi.spyOn(Date, "now");
      try {
        const now = Date.now();
        clock.mockReturnValue(now + 13 * 3_600_000);
        await expect(records.check()).rejects.toThrow("13 h apart");
        clock.mockReturnValue(now + 11 * 3_600_000);
        await records.check();
        const owner = randomUUID();
        await create({ owner });
        const soon = new Date(now + 60_000);
        expect((await records.listSubmissions({ owner, createdBefore: soon }, 10)).items).toHaveLength(1);
        expect((await records.listSubmissions({ owner, createdFrom: soon }, 10)).items).toHaveLength(0);
      } finally {
        clock.mockRestore();
      }
    },
  );

  test("the sweep finds what is unfinished, and adding it again adds nothing", async () => {
    const { id } = await create();
    const before = await queue.countJobs("judge");
    const found: string[] = [];
    for await (const jobs of listUnfinishedJobs(database.pool, 0)) {
      found.push(...jobs.map(({ subject }) => subject));
      await queue.addAgain(jobs);
    }
    expect(found).toContain(id);
    expect(await queue.countJobs("judge")).toEqual(before);
    await queue.clear();
    expect(await queue.countJobs("judge")).toBe(0);
    for await (const jobs of listUnfinishedJobs(database.pool, 0)) await queue.addAgain(jobs);
    expect(await queue.countJobs("judge")).toBe(found.length);
  });

  test("a delivery is in one pair of hands, is written down, and can be asked for again", async () => {
    const { id } = await create({ callback });
    await records.finish(id, RESULT);
    const event = (await records.listDeliveries(id, EVERY_OWNER))[0]!.event;
    const [claimed, other] = await Promise.all([
      claimDelivery(database.pool, sealer, event),
      claimDelivery(database.pool, sealer, event),
    ]);
    const due = (claimed.due ?? other.due)!;
    expect([claimed.heldMs, other.heldMs].filter((ms) => ms !== undefined)).toHaveLength(1);
    // Whoever held it died.
    expect((await claimDelivery(database.pool, sealer, event, true)).due).toMatchObject({ event, tries: 0 });
    expect(due).toMatchObject({ submission: id, url: callback.url, secrets: [callback.secret], tries: 0 });

    const attempt = { startedAt: new Date(), durationMs: 12, status: 503, problem: "status", detail: "no" };
    await recordAttempt(attemptDeps(), due, attempt, { state: "pending", retryAfterMs: 60_000 });
    expect(await claimDelivery(database.pool, sealer, event)).toEqual({});
    expect(await claimDelivery(database.pool, sealer, event, true)).toEqual({});
    expect((await records.listDeliveries(id, EVERY_OWNER))[0]).toEqual({
      id: event,
      event,
      submission: id,
      url: callback.url,
      state: "pending",
      nextAttemptAt: expect.any(Date),
      attempts: [{ attempt: 1, ...attempt }],
    });

    expect(await records.redeliver(id, EVERY_OWNER)).toBe(true);
    const overdue: string[] = [];
    for await (const jobs of listOverdueDeliveryJobs(database.pool, 0)) overdue.push(...jobs.map((job) => job.subject));
    expect(overdue).toContain(event);
    const { due: again } = await claimDelivery(database.pool, sealer, event);
    expect(again).toMatchObject({ event, body: due.body, tries: 0 });
    await recordAttempt(
      attemptDeps(),
      again!,
      { startedAt: new Date(), durationMs: 3, status: 410 },
      { state: "disabled" },
    );
    expect((await records.listDeliveries(id, EVERY_OWNER))[0]).toMatchObject({
      state: "disabled",
      attempts: [{ attempt: 1 }, { attempt: 2 }],
    });
  });

  test("a callback that answered 410 to one client is still called for another, and again once asked for", async () => {
    const gone = { ...callback, url: `https://receiver.example/${randomUUID()}` };
    const dueOf = async (owner: string | undefined) => {
      const { id } = await create({ callback: gone, ...(owner !== undefined && { owner }) });
      await records.finish(id, RESULT);
      const { event } = (await records.listDeliveries(id, EVERY_OWNER))[0]!;
      return { id, due: (await claimDelivery(database.pool, sealer, event)).due! };
    };
    const [one, other] = [randomUUID(), randomUUID()];
    for (const owner of [one, undefined]) {
      const { due } = await dueOf(owner);
      expect(due.isDisabled).toBe(false);
      const attempt = { startedAt: new Date(), durationMs: 3, status: 410 };
      await recordAttempt(attemptDeps(), due, attempt, { state: "disabled" });
      expect((await dueOf(owner)).due.isDisabled).toBe(true);
      expect((await dueOf(other)).due.isDisabled).toBe(false);
    }
    // Another's asking does not switch it on for the one it was gone for.
    expect(await records.redeliver((await dueOf(other)).id, EVERY_OWNER)).toBe(true);
    expect((await dueOf(one)).due.isDisabled).toBe(true);
    expect(await records.redeliver((await dueOf(one)).id, EVERY_OWNER)).toBe(true);
    expect((await dueOf(one)).due.isDisabled).toBe(false);
  });

  test("redelivery needs an event with a receiver", async () => {
    const { id } = await create();
    await records.finish(id, RESULT);
    expect(await records.redeliver(id, EVERY_OWNER)).toBe(false);
    expect(await records.redeliver("x", EVERY_OWNER)).toBe(false);
  });

  test("the backlog counts what is unfinished", async () => {
    const before = await records.countBacklog();
    const { id } = await create();
    await records.markWorking(id, 3);
    const after = await records.countBacklog();
    expect(after).toMatchObject({ accepted: before.accepted, working: before.working + 1 });
    expect(after.oldestPendingSeconds).toBeGreaterThanOrEqual(0);
  });

  test("every event has a number of its own, and an owner sees only theirs", async () => {
    const owner = randomUUID();
    const made = await Promise.all([1, 2, 3, 4, 5, 6].map(() => create({ owner })));
    await Promise.all(made.map(({ id }) => records.finish(id, RESULT)));
    const events = await records.listEvents(owner, 0, 4);
    const rest = await records.listEvents(owner, events.at(-1)!.sequence, 10);
    const all = [...events, ...rest];
    expect(new Set(all.map(({ submission }) => submission))).toEqual(new Set(made.map(({ id }) => id)));
    expect(all.map(({ sequence }) => sequence)).toEqual(all.map(({ sequence }) => sequence).sort((a, b) => a - b));
  });
});
