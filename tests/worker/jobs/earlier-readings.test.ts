import { afterAll, beforeAll, expect, test } from "vitest";
import type { Corrections } from "../../../core/certificate/corrections.js";
import type { Report } from "../../../core/report/report.js";
import type { RunningWorker } from "../../../worker/start-worker.js";
import { openEmbedded } from "../../../worker/store/open-embedded.js";
import { EVERY_OWNER, type NewSubmission, type StoredDocument } from "../../../worker/store/records.js";
import type { Stores } from "../../../worker/store/stores.js";
import { embeddedFolder } from "../../support/embedded-folder.js";
import { storeDocument } from "../../support/invented.js";
import { startTestWorker } from "../../support/running-worker.js";
import { spokenVerifier } from "../../support/spoken-certificate.js";

let folder: Awaited<ReturnType<typeof embeddedFolder>>;
let stores: Stores;
let worker: RunningWorker;

beforeAll(async () => {
  folder = await embeddedFolder();
  stores = await openEmbedded(folder.path, "https://heatgate.example");
  worker = await startTestWorker(stores, spokenVerifier());
});
afterAll(async () => {
  await worker.stop();
  await stores.close();
  await folder.remove();
});

const requirement = {
  requirement: 1,
  name: "Carbon",
  limits: [{ quantity: "C", max: "0.040", unit: "%" }],
} as const;

const document = (text: string) => storeDocument(stores.documents, folder.path, text);

async function judged(documents: readonly StoredDocument[], more: Partial<NewSubmission> = {}) {
  const { id } = await stores.records.createSubmission({
    owner: "tarnholm",
    requirement: { ...requirement, limits: [...requirement.limits] },
    documents,
    ...more,
  });
  await stores.records.waitUntilFinal(id, 20_000);
  const stored = await stores.records.getReport(id, EVERY_OWNER);
  return { id, digest: stored!.digest, report: JSON.parse(stored!.json) as Report };
}

const contradictionsIn = ({ heats }: Report) => heats[0]!.findings.filter(({ reason }) => reason === "contradiction");

test("the same values again are nothing; other carbon is undetermined and shows both, and where each was read", async () => {
  const first = await judged([await document("N1001 0.021 Norrvik")]);
  expect(first.report.verdict).toBe("pass");
  const again = await judged([await document("n-1001 0.021 Norrvik\n")]);
  expect(again.report.verdict).toBe("pass");

  const other = await judged([await document("N-1001 0.034 Norrvik")]);
  expect(other.report.verdict).toBe("undetermined");
  const [finding] = contradictionsIn(other.report);
  expect(finding).toMatchObject({
    readings: [1],
    earlier: [{ quantity: "C", value: "0.021", submission: first.id, place: { line: 1, column: 2 } }],
  });
  expect(finding!.message).toContain("C 0.034 % here and 0.021 % in cert.csv, line 1, column 2");
});

test("neither another client's heat nor another mill's is compared", async () => {
  await judged([await document("N1002 0.021 Norrvik")]);
  const theirs = await judged([await document("N1002 0.034 Norrvik")], { owner: "other" });
  expect(theirs.report.verdict).toBe("pass");
  const otherMill = await judged([await document("N1002 0.034 Brackwater")]);
  expect(otherMill.report.verdict).toBe("pass");
});

test("a document that comes again, or is corrected by a person, does not contradict itself", async () => {
  const misread = await document("N1003 0.081 Norrvik");
  const first = await judged([misread]);
  expect(first.report.verdict).toBe("fail");
  const corrections: Corrections = {
    corrections: 1,
    by: "M. Ostergaard",
    date: "2026-03-09",
    items: [{ document: misread.sha256, evidence: { line: 1, column: 2 }, quantity: "C", value: "0.021" }],
  };
  const corrected = await judged([misread], { correction: { of: first.id, corrections } });
  expect(corrected.report.verdict).toBe("pass");

  // Only the corrected reading stands from now on.
  const agreeing = await judged([await document("N1003 0.021 Norrvik second sheet")]);
  expect(agreeing.report.verdict).toBe("pass");
  const disagreeing = await judged([await document("N1003 0.034 Norrvik third sheet")]);
  expect(contradictionsIn(disagreeing.report)[0]?.earlier).toMatchObject([
    { value: "0.021", submission: corrected.id },
  ]);
});

test("of two that come at the same moment the one that ends second knows the first", async () => {
  const [one, other] = await Promise.all([
    document("N1004 0.021 Norrvik").then((kept) => judged([kept])),
    document("N1004 0.034 Norrvik").then((kept) => judged([kept])),
  ]);
  expect([one!, other!].map(({ report }) => contradictionsIn(report).length).sort()).toEqual([0, 1]);
});

test("what was known is kept beside the report: the same again gives the same bytes", async () => {
  await judged([await document("N1005 0.021 Norrvik")]);
  const { id, digest } = await judged([await document("N1005 0.034 Norrvik")]);
  const { rows } = await stores.pool.query("SELECT earlier FROM heatgate.report WHERE submission = $1", [id]);
  expect(rows[0].earlier).toMatchObject([{ heat: "N1005", readings: [{ value: "0.021" }] }]);
  // A worker that died after the commit: its successor finds the submission final, and the report as it was.
  await stores.queue.addAgain([{ queue: "judge", subject: id }]);
  await expect.poll(() => stores.queue.countJobs("judge")).toBe(0);
  expect((await stores.records.getReport(id, EVERY_OWNER))!.digest).toBe(digest);
});
