import { expect, test } from "vitest";
import type { Verifier } from "../../../worker/jobs/verify-documents.js";
import { judgeDocuments, readDocuments } from "../../../worker/jobs/verify-documents.js";
import { namingVerifier, sha256 } from "../../support/invented.js";

/** What each document came to: its heats, or its problem. The nth is given the nth number of heats. */
async function read(...heats: readonly number[]): Promise<readonly (number | string)[]> {
  const verifier: Verifier = {
    ...namingVerifier(),
    recognise: (_, position) => {
      const certificate = namingVerifier().recognise({ reader: "csv", tables: [], doubts: [] }, position);
      return { ...certificate, heats: new Array(heats[position]).fill({ heat: "H1", readings: [] }) };
    },
  };
  const documents = heats.map((count) => ({
    name: `${count}.csv`,
    mediaType: "text/csv",
    sha256: sha256(`${count}`),
    path: "",
  }));
  const found = await readDocuments(verifier, documents);
  return found.map(({ content }) => (content.kind === "certificate" ? content.certificate.heats.length : content.code));
}

test.each<[string, number[], (number | string)[]]>([
  ["all that may be judged at once", [5_000], [5_000]],
  ["one more", [5_001], ["too-many-heats"]],
  ["the second document goes beyond it", [3_000, 2_001], [3_000, "too-many-heats"]],
  ["one that fits beside it after one that does not", [3_000, 2_001, 2_000], [3_000, "too-many-heats", 2_000]],
])("heats of a submission: %s", async (_, heats, found) => {
  expect(await read(...heats)).toEqual(found);
});

test("a text that was cut in the middle of a pair still makes a report", () => {
  const verifier = {
    ...namingVerifier(),
    buildReport: () => ({
      ...namingVerifier().buildReport({ ...NOTHING, documents: [] }),
      cautions: ["cut \ud83d", "😀"],
    }),
  };
  const { json, report } = judgeDocuments(verifier, [], { requirement: null });
  expect(report.cautions).toEqual(["cut \ufffd", "😀"]);
  expect(JSON.parse(json)).toEqual(report);
});

const NOTHING = { documents: [], requirement: null, library: { grades: [], tolerances: [] } };
