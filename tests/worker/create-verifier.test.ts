import { mkdtemp, rm, writeFile } from "node:fs/promises";
import { tmpdir } from "node:os";
import path from "node:path";
import { afterAll, afterEach, beforeAll, expect, test } from "vitest";
import { createVerifier } from "../../worker/create-verifier.js";
import { verifyDocuments } from "../../worker/jobs/verify-documents.js";

let folder: string;
let verifier: Awaited<ReturnType<typeof createVerifier>>;

beforeAll(async () => {
  folder = await mkdtemp(path.join(tmpdir(), "heatgate-verifier-"));
});
afterEach(() => verifier.close());
afterAll(() => rm(folder, { recursive: true }));

async function given(name: string, bytes: string) {
  const file = path.join(folder, name);
  await writeFile(file, bytes);
  return { name, mediaType: "text/csv", sha256: "0".repeat(64), path: file };
}

const SMALL = "Heat;C %;Cr %\nH4471;0.021;18.12\nH4472;<0.005;18.3\n";
/** Cells just short of what is cut: some patterns need time with the square of their length. Read it is in a second. */
const GREEDY = Array.from({ length: 24_000 }, (_, row) => `${row}${"1 ".repeat(245)};a${" a".repeat(245)}`).join("\n");

test("a document that would be recognised for minutes ends with a problem; the next one is judged", async () => {
  verifier = await createVerifier({ children: 1, budgets: { wallMs: 8_000 } });
  const { report } = await verifyDocuments(verifier, [await given("greedy.csv", GREEDY)], null);
  // Nothing but a kill from outside ends it so: recognised in this process it would have been read to the end.
  expect(report.documents[0]).toMatchObject({ reader: "none", doubts: [{ code: "timed-out" }] });

  const next = await verifyDocuments(verifier, [await given("small.csv", SMALL)], null);
  expect(next.heatNumbers).toEqual(["H4471", "H4472"]);
}, 120_000);

test("what the child recognised is what recognising here gives, to the last digit", async () => {
  verifier = await createVerifier({ children: 1 });
  const { path: file, name, mediaType } = await given("small.csv", SMALL);
  const read = await verifier.read(file, { name, mediaType }, 3);
  if (!read.ok) throw new Error(read.problem.message);
  const { heats } = verifier.recognise(read.document, 3);
  expect("tables" in read.document).toBe(false);
  expect(heats[0]!.readings[0]).toMatchObject({
    printed: "0.021",
    value: { digits: 21n, places: 3 },
    evidence: { document: 3, line: 2, column: 2 },
  });
  expect(heats[1]!.readings[0]).toMatchObject({ bound: "<", value: { digits: 5n, places: 3 } });
});
