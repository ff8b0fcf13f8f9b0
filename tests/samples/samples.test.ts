import { readdir, readFile } from "node:fs/promises";
import { join } from "node:path";
import { afterAll, beforeAll, describe, expect, test } from "vitest";
import { placeText } from "../../core/report/place-text.js";
import type { Report, ReportHeat } from "../../core/report/report.js";
import { renderSarif } from "../../core/report/sarif.js";
import type { Finding } from "../../core/verdict/finding.js";
import { gatherDocuments } from "../../worker/cli/gather-documents.js";
import { readRequirement } from "../../worker/cli/read-requirement.js";
import { createVerifier } from "../../worker/create-verifier.js";
import { verifyDocuments } from "../../worker/jobs/verify-documents.js";
import { sarifFaults } from "../support/sarif-schema.js";
import { capturedTerminal } from "../worker/cli/captured-terminal.js";
import { GENERATED, SAMPLES_FOLDER } from "./make-samples.js";

/**
 * Worked out by hand from the limits. A finding is known by its limit, or by what it is about where it has none. Whatever is
 * not listed must be a pass or not applicable.
 */
interface Expected {
  readonly verdict: string;
  readonly heats: Readonly<Record<string, { readonly verdict: string; readonly findings: readonly ExpectedFinding[] }>>;
  /** Codes, in the order of the documents. */
  readonly doubts: readonly string[];
}

interface ExpectedFinding {
  readonly limit: string;
  readonly outcome: string;
  readonly reason?: string;
  readonly judged?: string;
  readonly from?: readonly string[];
}

/** Files for running the service, for calling it, for comparing; tests of their own hold them to the program. */
const NO_SUBMISSIONS = ["operation", "integration", "comparison-301-304l"];

const folders = (await readdir(SAMPLES_FOLDER, { withFileTypes: true }))
  .filter((entry) => entry.isDirectory() && !NO_SUBMISSIONS.includes(entry.name))
  .map(({ name }) => name);

let verifier: Awaited<ReturnType<typeof createVerifier>>;
beforeAll(async () => {
  verifier = await createVerifier({ children: 2 });
});
afterAll(() => verifier.close());

describe.each(folders)("%s", (name) => {
  let report: Report;
  let expected: Expected;

  beforeAll(async () => {
    const folder = join(SAMPLES_FOLDER, name);
    const files = (await readdir(folder)).sort();
    expected = JSON.parse(await readFile(join(folder, "expected.json"), "utf8"));
    const { terminal } = capturedTerminal({ folder });
    const given = files.filter((file) => file !== "expected.json" && file !== "requirement.json");
    const documents = await gatherDocuments(given, terminal, folder);
    const requirement = files.includes("requirement.json") ? await readRequirement("requirement.json", terminal) : null;
    report = JSON.parse((await verifyDocuments(verifier, documents, requirement)).json);
  });

  test("each heat has its verdict, and the submission the worst", () => {
    expect(Object.fromEntries(report.heats.map(({ heat, verdict }) => [heat, verdict]))).toEqual(
      Object.fromEntries(Object.entries(expected.heats).map(([heat, { verdict }]) => [heat, verdict])),
    );
    expect(report.verdict).toBe(expected.verdict);
  });

  test("every finding listed is found, with its value and the place it was read", () => {
    for (const heat of report.heats) {
      const listed = expected.heats[heat.heat]?.findings ?? [];
      for (const finding of listed) expect(foundAs(heat, finding, report)).toEqual([finding]);
    }
  });

  test("nothing else failed or stayed undetermined", () => {
    const unlisted = report.heats.flatMap((heat) => {
      const listed = expected.heats[heat.heat]?.findings ?? [];
      return heat.findings
        .filter(({ outcome }) => outcome === "fail" || outcome === "undetermined")
        .filter((finding) => !listed.some((one) => one.limit === nameOf(finding) && one.outcome === finding.outcome))
        .map(({ outcome, message }) => `${heat.heat} ${outcome}: ${message}`);
    });
    expect(unlisted).toEqual([]);
  });

  test("its SARIF is valid", () => {
    expect(sarifFaults(renderSarif(report))).toEqual([]);
  });

  test("the doubts are those listed", () => {
    const doubts = report.documents.flatMap((document) => document.doubts);
    expect(doubts.map(({ code }) => code)).toEqual(expected.doubts);
  });
});

test.each(Object.entries(GENERATED))("%s is what its maker writes", async (path, make) => {
  expect(Buffer.from(await make()).equals(await readFile(join(SAMPLES_FOLDER, path)))).toBe(true);
});

function nameOf(finding: Finding): string {
  return finding.limit?.id ?? finding.quantity;
}

/** The findings under the expected one's limit and place, in the expected one's terms. */
function foundAs(heat: ReportHeat, expected: ExpectedFinding, report: Report): readonly ExpectedFinding[] {
  return heat.findings
    .filter((finding) => nameOf(finding) === expected.limit)
    .map((finding) => ({
      limit: nameOf(finding),
      outcome: finding.outcome,
      ...(expected.reason !== undefined && { reason: finding.reason ?? "none" }),
      ...(expected.judged !== undefined && { judged: finding.judged ?? "none" }),
      ...(expected.from && {
        from: heat.readings
          .filter(({ id }) => finding.readings.includes(id))
          .map(({ evidence }) => placeText(evidence, report)),
      }),
    }))
    .filter(({ from }) => !from || from.join() === expected.from?.join());
}
