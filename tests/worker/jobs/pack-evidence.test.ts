import { readdirSync } from "node:fs";
import { join } from "node:path";
import { afterAll, beforeAll, expect, test } from "vitest";
import { gatherDocuments } from "../../../worker/cli/gather-documents.js";
import { createVerifier } from "../../../worker/create-verifier.js";
import { packEvidence, unpackEvidence } from "../../../worker/jobs/pack-evidence.js";
import { judgeDocuments, readDocuments } from "../../../worker/jobs/verify-documents.js";
import { SAMPLES_FOLDER } from "../../samples/make-samples.js";
import { capturedTerminal } from "../cli/captured-terminal.js";

let verifier: Awaited<ReturnType<typeof createVerifier>>;
beforeAll(async () => {
  verifier = await createVerifier({ children: 1 });
});
afterAll(() => verifier.close());

const SAMPLES = readdirSync(SAMPLES_FOLDER, { withFileTypes: true }).filter((entry) => entry.isDirectory());

test.each(SAMPLES.map(({ name }) => [name]))("%s gives the same report from what was kept of it", async (sample) => {
  const { terminal } = capturedTerminal({ folder: join(SAMPLES_FOLDER, sample) });
  const documents = await gatherDocuments(["."], terminal, SAMPLES_FOLDER);
  const read = await readDocuments(
    verifier,
    documents.filter(({ name }) => name !== "expected.json" && name !== "requirement.json"),
  );
  const kept = await unpackEvidence(await packEvidence(read));
  expect(kept).toEqual(read);
  const judging = { requirement: null };
  expect(judgeDocuments(verifier, kept, judging).digest).toBe(judgeDocuments(verifier, read, judging).digest);
});
