import { randomUUID } from "node:crypto";
import { writeFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { judgeSubmission } from "../../../worker/jobs/judge-submission.js";
import { listAudit } from "../../../worker/store/audit.js";
import { faultInChain } from "../../../worker/store/audit-chain.js";
import { findEarlierReadings } from "../../../worker/store/earlier-readings.js";
import { listMarkedBytes, removeErasedBytes } from "../../../worker/store/erased-bytes.js";
import { findStarts } from "../../../worker/store/progress.js";
import {
  type ErasureRequest,
  EVERY_OWNER,
  type NewSubmission,
  type StoredDocument,
  SubmissionErased,
} from "../../../worker/store/records.js";
import { openDecisions } from "../../../worker/store/sql-decisions.js";
import { openEndpoints } from "../../../worker/store/sql-endpoints.js";
import { openTrials } from "../../../worker/store/sql-trials.js";
import { ENGINES, OPENING_MS, openEngine } from "../../support/engine.js";
import { namingVerifier, newSubmission, sha256, storeDocument } from "../../support/invented.js";
import { storedHeat, storedReading } from "../../support/stored-heat.js";
import { finishedReport } from "../../support/test-api.js";

const OWNER = "tarnholm";
const asked: ErasureRequest = { person: "M. Aurland", keyName: "admin", reason: "Sent by mistake.", reference: "C-17" };

describe.each(ENGINES)("erasure on %s", (engine) => {
  let stores: Awaited<ReturnType<typeof openEngine>>;
  beforeAll(async () => {
    stores = await openEngine(engine);
  }, OPENING_MS);
  afterAll(() => stores.close());

  const store = (text: string) => storeDocument(stores.documents, stores.folder, text);
  const create = async (documents: readonly StoredDocument[], more: Partial<NewSubmission> = {}) =>
    await stores.records.createSubmission(newSubmission(documents, { owner: OWNER, by: "ERP", ...more }));
  const erase = (id: string, owner = OWNER) => stores.records.erase(id, owner, asked);
  const removeMarked = async () => {
    for (const sha of await listMarkedBytes(stores.pool, 1_000)) {
      await removeErasedBytes(stores.pool, stores.documents, sha);
    }
  };
  const isKept = (sha: string) =>
    stores.documents.get(sha).then(
      () => true,
      () => false,
    );

  /** What an accepting process does: the bytes first, then the row. `between` runs between the two. */
  async function accept(text: string, between = async () => {}, again = async () => {}) {
    const path = join(stores.folder, randomUUID());
    await writeFile(path, text);
    await stores.documents.put(sha256(text), path);
    await between();
    const document = { name: "cert.csv", sha256: sha256(text), bytes: text.length, mediaType: "text/csv" };
    return await create([document], {
      async keepAgain({ sha256: sha }) {
        await again();
        await stores.documents.put(sha, path);
      },
    });
  }

  async function everyRow(): Promise<string> {
    const { rows: tables } = await stores.pool.query<{ name: string }>(
      `SELECT format('%I.%I', schemaname, tablename) AS name FROM pg_tables
       WHERE schemaname IN ('heatgate', 'bullmq') AND tablename <> 'audit'`,
    );
    const texts: string[] = [];
    for (const { name } of tables) {
      const { rows } = await stores.pool.query<{ text: string }>(`SELECT t::text AS text FROM ${name} AS t`);
      texts.push(...rows.map(({ text }) => text));
    }
    return texts.join("\n");
  }

  test("leaves nothing in any table of what was handed in and made of it", async () => {
    const mark = `mark${randomUUID().slice(0, 8)}`;
    const document = { ...(await store(`Heat;C\n${mark};0,021\n`)), name: `${mark}.csv` };
    const callback = { url: `https://${mark}.example/x`, secret: "whsec_c2VjcmV0IHNlY3JldCBzZWNyZXQgc2VjcmV0" };
    const requirement = { requirement: 1, name: mark, limits: [] } as const;
    const { id } = await create([document], {
      callback,
      tags: { order: mark },
      requirement: { ...requirement, limits: [] },
      content: mark,
    });
    const report = JSON.parse(finishedReport("fail").json);
    const heat = { ...storedHeat(mark, "304L", [storedReading("C", "0.021")]), verdict: "fail" };
    const json = JSON.stringify({ ...report, documents: [{ name: mark, issuer: mark }], heats: [heat] });
    await stores.records.finish(id, {
      ...finishedReport("fail"),
      json,
      evidence: Buffer.from(mark),
      pictures: [
        { spot: { document: 0, page: 1, box: [1, 1, 1, 1] }, picture: { png: mark, widthPx: 1, heightPx: 1 } },
      ],
    });
    await openDecisions(stores.pool, stores.queue).add({
      ...{ owner: OWNER, submission: id, heat: mark, action: "return", person: mark, reason: mark },
      ...{ verdict: "fail", reportDigest: "d", keyName: "a" },
    });
    const trial = await openTrials(stores.pool, stores.queue).create({ kind: "grades", submission: id, heat: mark });
    await stores.pool.query("UPDATE heatgate.trial SET result = to_json($2::text) WHERE id = $1", [trial.id, mark]);
    const hex = Buffer.from(mark).toString("hex");
    const before = await everyRow();
    expect(before.split(mark).length).toBeGreaterThan(12);
    expect(before).toContain(hex);

    await erase(id);
    // The receiver is told; its own address goes with that delivery.
    await stores.pool.query("DELETE FROM heatgate.event WHERE submission = $1 AND type = 'submission.erased'", [id]);
    const after = await everyRow();
    expect(after.split("\n").filter((row) => row.includes(mark) || row.includes(hex))).toEqual([]);
    await removeMarked();
    expect(await isKept(document.sha256)).toBe(false);
  });

  test("leaves when, who, why and the digests, and the audit chain whole", async () => {
    const document = await store("Heat;C\nE1;0,021\n");
    const { id, createdAt } = await create([document]);
    const report = finishedReport("pass");
    await stores.records.finish(id, report);
    expect(await erase(id, "other")).toBeUndefined();
    const erasure = await erase(id);
    expect(erasure).toEqual({
      ...asked,
      submission: id,
      handedInAt: createdAt,
      erasedAt: expect.any(Date),
      documents: [document.sha256],
      reportDigest: report.digest,
    });
    expect(await stores.records.getErasure(id, OWNER)).toEqual(erasure);
    expect(await stores.records.getErasure(id, "other")).toBeUndefined();
    expect(await erase(id)).toBeUndefined();

    const trail = await listAudit(stores.pool, OWNER, 0, 1_000);
    expect(faultInChain(trail)).toBeUndefined();
    expect(trail.filter(({ subject }) => subject === id).map(({ kind, actor }) => [kind, actor])).toEqual([
      ["submission.accepted", "ERP"],
      ["submission.done", "heatgate"],
      ["submission.erased", "M. Aurland"],
    ]);
    expect(trail.at(-1)?.details).toEqual({
      documents: [document.sha256],
      reportDigest: report.digest,
      reason: asked.reason,
      reference: asked.reference,
      key: "admin",
    });
    await expect(stores.pool.query("DELETE FROM heatgate.erasure")).rejects.toThrow(/only ever added to/);
  });

  test("tells the endpoints and the submission's receiver, and nothing of what was in it", async () => {
    const owner = randomUUID();
    const endpoints = openEndpoints(stores);
    const settings = { url: "https://receiver.example/all", description: "", body: "thin" } as const;
    const { endpoint } = await endpoints.create(owner, settings, { kind: "v1" }, "tests");
    const callback = { url: "https://receiver.example/x", secret: "whsec_c2VjcmV0IHNlY3JldCBzZWNyZXQgc2VjcmV0" };
    const { id } = await create([await store("Heat;C\nE2;0,021\n")], { owner, callback });
    await stores.records.finish(id, finishedReport("fail"));
    await erase(id, owner);
    const [event, ...others] = await stores.records.listEvents(owner, 0, 10);
    expect(others).toEqual([]);
    expect(JSON.parse(event!.body)).toEqual({
      type: "submission.erased",
      sequence: event!.sequence,
      timestamp: expect.any(String),
      data: { submission: id, reportSha256: finishedReport("fail").digest },
    });
    const { rows } = await stores.pool.query("SELECT url, endpoint FROM heatgate.delivery WHERE event = $1", [
      event!.id,
    ]);
    expect(rows).toHaveLength(2);
    expect(rows).toContainEqual({ url: callback.url, endpoint: null });
    expect(rows).toContainEqual({ url: null, endpoint: endpoint.id });
  });

  test("takes what corrects it along; without its correction a misread value does not come back", async () => {
    const paper = await store("Heat;C\nE3;0,081\n");
    const original = await create([paper]);
    const reported = (carbon: string) => {
      const heat = storedHeat("E3", "304L", [storedReading("C", carbon)]);
      return { ...finishedReport("pass"), json: JSON.stringify({ documents: [{ name: "a" }], heats: [heat] }) };
    };
    await stores.records.finish(original.id, reported("0.081"));
    const corrections = { corrections: 1, by: "M. Ostergaard", date: "2026-03-09", items: [] } as const;
    const correct = () =>
      create([paper], { correction: { of: original.id, corrections: { ...corrections, items: [] } } });
    const first = await correct();
    await stores.records.finish(first.id, reported("0.021"));
    const later = await create([await store("Heat;C\nE3;0,021 later\n")]);
    const known = async () =>
      (await findEarlierReadings(stores.pool, later.id, ["E3"])).flatMap(({ readings }) =>
        readings.map(({ value }) => value),
      );
    expect(await known()).toEqual(["0.021"]);
    await erase(first.id);
    expect(await known()).toEqual([]);

    const second = await correct();
    await erase(original.id);
    expect(await stores.records.getSubmission(second.id)).toBeUndefined();
    expect(await stores.records.getErasure(second.id)).toMatchObject({ correctionOf: original.id });
    await expect(correct()).rejects.toThrow(SubmissionErased);
  });

  test("ends a job that works on it quietly, and whoever waits for it", async () => {
    const { id } = await create([await store("Heat;C\nE4;0,021\n")]);
    const waiting = stores.records.waitUntilFinal(id, 60_000);
    let removed = async () => {};
    const verifier = namingVerifier(async () => {
      await removed();
      throw new Error("the file is gone");
    });
    removed = async () => {
      await erase(id);
      await removeMarked();
    };
    const deps = {
      ...stores,
      verifier,
      findStarts: (submission: string) => findStarts(stores.pool, submission),
      findEarlier: async () => [],
      alone: <Result>(work: () => Promise<Result>) => work(),
    };
    expect(await judgeSubmission(deps, id)).toEqual({ kind: "nothing-to-do" });
    expect(await waiting).toBeUndefined();
    expect(await judgeSubmission(deps, id)).toEqual({ kind: "nothing-to-do" });
    await stores.records.finish(id, finishedReport("pass"));
    await stores.records.fail(id, { code: "late", message: "Too late." });
    expect(await stores.records.getReport(id, EVERY_OWNER)).toBeUndefined();
  });

  test("does not let its idempotency key or its content lead to it, nor to another one by that key", async () => {
    const idempotency = { key: randomUUID(), fingerprint: "f" };
    const content = randomUUID();
    const document = await store("Heat;C\nE5;0,021\n");
    const { id } = await create([document], { idempotency, content });
    await erase(id);
    const kept = await stores.records.findByIdempotencyKey(OWNER, idempotency.key);
    expect(kept).toMatchObject({ fingerprint: "f", erasure: { submission: id } });
    expect(kept?.submission).toBeUndefined();
    await expect(create([document], { idempotency })).rejects.toThrow(SubmissionErased);
    expect(await stores.records.findSameContent(OWNER, content)).toBeUndefined();
  });

  test("refuses what would be added to it", async () => {
    const { id } = await create([await store("Heat;C\nE6;0,021\n")]);
    await stores.records.finish(id, finishedReport("fail"));
    await erase(id);
    const decision = { owner: OWNER, submission: id, heat: "E6", action: "accept", person: "p", reason: "r" } as const;
    const decided = openDecisions(stores.pool, stores.queue).add({
      ...decision,
      ...{ verdict: "fail", reportDigest: "d", keyName: "a" },
    });
    await expect(decided).rejects.toThrow(SubmissionErased);
    const trial = openTrials(stores.pool, stores.queue).create({ kind: "grades", submission: id });
    await expect(trial).rejects.toThrow(SubmissionErased);
  });

  describe("bytes that others hand in, too", () => {
    test("stay as long as any submission has them, whoever's it is", async () => {
      const text = "Heat;C\nB1;0,021\n";
      const [ours, theirs] = [await accept(text), await create([await store(text)], { owner: "other" })];
      await erase(ours.id);
      await removeMarked();
      expect(await isKept(sha256(text))).toBe(true);
      await erase(theirs.id, "other");
      await removeMarked();
      expect(await isKept(sha256(text))).toBe(false);
    });

    test("are there when they were erased between being put and being accepted", async () => {
      const text = "Heat;C\nB2;0,021\n";
      const first = await accept(text);
      const second = await accept(text, async () => {
        await erase(first.id);
        await removeMarked();
        expect(await isKept(sha256(text))).toBe(false);
      });
      expect(await isKept(sha256(text))).toBe(true);
      await removeMarked();
      expect(await isKept(second.documents[0]!.sha256)).toBe(true);
    });

    test("are not removed while somebody accepts them", async () => {
      const text = "Heat;C\nB3;0,021\n";
      const first = await accept(text);
      let removing: Promise<boolean> = Promise.resolve(false);
      const second = await accept(
        text,
        async () => void (await erase(first.id)),
        async () => {
          // Held by the transaction that accepts: this comes after it.
          removing = removeErasedBytes(stores.pool, stores.documents, sha256(text));
          await new Promise((resolve) => setTimeout(resolve, 100));
          expect(await isKept(sha256(text))).toBe(true);
        },
      );
      expect(await removing).toBe(false);
      expect(await isKept(sha256(text))).toBe(true);
      expect(await stores.records.getSubmission(second.id)).toBeDefined();
    });

    // PGlite runs one transaction at a time, so that none waits for another's lock in the middle of a statement.
    test.runIf(engine === "PostgreSQL")("are there when they went while the accepting statement waited", async () => {
      const text = "Heat;C\nB5;0,021\n";
      const remover = await stores.pool.connect();
      try {
        await remover.query("BEGIN");
        await remover.query("SELECT pg_advisory_xact_lock(('x' || left($1, 16))::bit(64)::bigint)", [sha256(text)]);
        let again = 0;
        const accepting = accept(text, undefined, async () => void again++);
        await untilWaiting();
        await stores.pool.query("INSERT INTO heatgate.erased_document VALUES ($1, now(), now())", [sha256(text)]);
        await stores.documents.remove(sha256(text));
        await remover.query("COMMIT");
        await accepting;
        expect(again).toBe(1);
        expect(await isKept(sha256(text))).toBe(true);
      } finally {
        remover.release();
      }
    });

    async function untilWaiting(): Promise<void> {
      for (;;) {
        const { rowCount } = await stores.pool.query(
          "SELECT 1 FROM pg_locks WHERE locktype = 'advisory' AND NOT granted",
        );
        if (rowCount) return;
        await new Promise((resolve) => setTimeout(resolve, 20));
      }
    }

    test("are never lost by any of many that accept and erase at once", async () => {
      const text = "Heat;C\nB4;0,021\n";
      let ids: string[] = [(await accept(text)).id];
      for (let round = 0; round < 12; round++) {
        const erasing = ids.map(async (id) => {
          await erase(id);
          await removeErasedBytes(stores.pool, stores.documents, sha256(text));
        });
        const [accepted] = await Promise.all([Promise.all([1, 2, 3].map(() => accept(text))), ...erasing]);
        await removeMarked();
        expect(await isKept(sha256(text)), `round ${round}`).toBe(true);
        ids = accepted.map(({ id }) => id);
      }
      await Promise.all(ids.map((id) => erase(id)));
      await removeMarked();
      expect(await isKept(sha256(text))).toBe(false);
    });
  });
});
