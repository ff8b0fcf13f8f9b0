import { expect, test } from "vitest";
import { judgeSubmission, STARTS_ALLOWED } from "../../../worker/jobs/judge-submission.js";
import { createTurns } from "../../../worker/jobs/turns.js";
import type { DocumentStore, Failure, FinishedReport, SubmissionRecord } from "../../../worker/store/records.js";
import { namingVerifier, sha256, UNREAD_DOCUMENT } from "../../support/invented.js";

const SUBMISSION: SubmissionRecord = {
  id: "s1",
  state: "working",
  createdAt: new Date(0),
  requirement: null,
  documents: [UNREAD_DOCUMENT],
  tags: {},
};

const UNSUSPECTED = {
  findStarts: async () => ({ count: 0, agoMs: 0 }),
  findEarlier: async () => [],
  alone: <Result>(work: () => Promise<Result>) => work(),
};

/** Records of one submission that count starts as the real ones do. */
function oneSubmission() {
  const kept = { starts: 0, reports: [] as FinishedReport[], failures: [] as Failure[] };
  const isFinal = () => kept.reports.length + kept.failures.length > 0;
  return {
    kept,
    records: {
      async markWorking(id: string, allowed: number) {
        if (id !== "s1") return "unknown" as const;
        if (isFinal()) return "final" as const;
        if (kept.starts >= allowed) return "given-up" as const;
        kept.starts++;
        return "started" as const;
      },
      markInterrupted: async () => void kept.starts--,
      getSubmission: async () => SUBMISSION,
      finish: async (_: string, report: FinishedReport) => kept.reports.push(report) > 0,
      fail: async (_: string, failure: Failure) => void kept.failures.push(failure),
    },
  };
}

function documentsIn(checkedOut: string[]): DocumentStore {
  return {
    put: async () => {},
    remove: async () => {},
    get: async () => new Uint8Array(),
    check: async () => {},
    async checkOut(sha) {
      checkedOut.push(sha);
      return { path: "/nowhere", release: async () => void checkedOut.splice(checkedOut.indexOf(sha), 1) };
    },
  };
}

test("the report is stored with the digest of its bytes, and the document is given back", async () => {
  const { records, kept } = oneSubmission();
  const out: string[] = [];
  const outcome = await judgeSubmission(
    { ...UNSUSPECTED, records, documents: documentsIn(out), verifier: namingVerifier() },
    "s1",
  );
  expect(outcome.kind).toBe("done");
  expect(kept.reports[0]!.digest).toBe(sha256(kept.reports[0]!.json));
  expect(out).toEqual([]);
});

test("a document that cannot be read is a report, not a failure", async () => {
  const { records, kept } = oneSubmission();
  const verifier = namingVerifier(async () => ({
    ok: false,
    problem: { code: "truncated", message: "The end is missing.", advice: "Send it again." },
  }));
  await judgeSubmission({ ...UNSUSPECTED, records, documents: documentsIn([]), verifier }, "s1");
  expect(JSON.parse(kept.reports[0]!.json).documents[0]).toMatchObject({ notes: ["truncated"] });
  expect(kept.failures).toEqual([]);
});

test("a store that falters is thrown to the queue, and does not count as a crash", async () => {
  const { records, kept } = oneSubmission();
  const documents = { ...documentsIn([]), checkOut: () => Promise.reject(new Error("bucket gone")) };
  for (let tries = 0; tries < STARTS_ALLOWED + 2; tries++) {
    await expect(
      judgeSubmission({ ...UNSUSPECTED, records, documents, verifier: namingVerifier() }, "s1"),
    ).rejects.toThrow("bucket gone");
  }
  expect(kept).toEqual({ starts: 0, reports: [], failures: [] });
});

test("our own fault fails the submission at once, with nothing said about the metal", async () => {
  const { records, kept } = oneSubmission();
  const verifier = {
    ...namingVerifier(),
    recognise: () => {
      throw new TypeError("undefined is not a heat");
    },
  };
  const outcome = await judgeSubmission({ ...UNSUSPECTED, records, documents: documentsIn([]), verifier }, "s1");
  expect(outcome).toMatchObject({
    kind: "failed",
    code: "internal-fault",
    cause: { message: "undefined is not a heat" },
  });
  expect(kept.failures).toEqual([
    { code: "internal-fault", message: expect.stringContaining("Nothing is said about the metal") },
  ]);
});

test("after three starts that died nobody tries again", async () => {
  const { records, kept } = oneSubmission();
  // A read that never returns stands for a process that died in it.
  const dying = namingVerifier(() => new Promise(() => {}));
  const deps = { ...UNSUSPECTED, records, documents: documentsIn([]), verifier: dying };
  for (let start = 0; start < STARTS_ALLOWED; start++) void judgeSubmission(deps, "s1");
  await new Promise(setImmediate);
  expect(await judgeSubmission(deps, "s1")).toEqual({ kind: "failed", code: "gave-up-after-crashes" });
  expect(kept.failures).toEqual([{ code: "gave-up-after-crashes", message: expect.stringContaining("one by one") }]);
  expect(await judgeSubmission(deps, "s1")).toEqual({ kind: "nothing-to-do" });
});

test("a submission that nobody knows is nothing to do", async () => {
  const { records } = oneSubmission();
  const deps = { ...UNSUSPECTED, records, documents: documentsIn([]), verifier: namingVerifier() };
  expect(await judgeSubmission(deps, "s2")).toEqual({ kind: "nothing-to-do" });
});

test("what was started before and not heard of again runs one at a time: others like it are put off, fresh work is not", async () => {
  const running: string[] = [];
  const order: string[] = [];
  const deps = (id: string) => ({
    ...UNSUSPECTED,
    records: {
      ...oneSubmission().records,
      async markWorking() {
        running.push(id);
        order.push(`${id} of ${running.length}`);
        await new Promise((resolve) => setTimeout(resolve, 20));
        running.splice(running.indexOf(id), 1);
        return "final" as const;
      },
    },
    documents: documentsIn([]),
    verifier: namingVerifier(),
    findStarts: async () => ({ count: id === "fresh" ? 0 : 1, agoMs: 60_000 }),
    alone,
  });
  const alone = createTurns();
  const outcomes = await Promise.all(["first", "second", "fresh"].map((id) => judgeSubmission(deps(id), id)));
  expect(outcomes.map(({ kind }) => kind)).toEqual(["nothing-to-do", "put-off", "nothing-to-do"]);
  expect(order.map((line) => line.split(" ")[0]).sort()).toEqual(["first", "fresh"]);
  await judgeSubmission(deps("second"), "second");
  expect(order.at(-1)).toBe("second of 1");
});

test.each([
  { count: 1, agoMs: 4_000, waitMs: 1_000 },
  { count: 2, agoMs: 4_000, waitMs: 6_000 },
  { count: 1, agoMs: 5_000, waitMs: undefined },
  { count: 2, agoMs: 10_000, waitMs: undefined },
  // There is nothing to wait for where it is only given up.
  { count: 3, agoMs: 0, waitMs: undefined },
  // The database's clock was set back since.
  { count: 1, agoMs: -3_600_000, waitMs: undefined },
])("after $count lost starts, the last $agoMs ms ago, it waits for those that died: $waitMs", async (suspect) => {
  const { records } = oneSubmission();
  const { count, agoMs, waitMs } = suspect;
  const deps = { ...UNSUSPECTED, records, documents: documentsIn([]), verifier: namingVerifier() };
  const outcome = await judgeSubmission({ ...deps, findStarts: async () => ({ count, agoMs }) }, "s2");
  expect(outcome).toEqual(waitMs === undefined ? { kind: "nothing-to-do" } : { kind: "put-off", waitMs });
});
