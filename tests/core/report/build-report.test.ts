import { beforeAll, describe, expect, it } from "vitest";
import type { Certificate, HeatRecord } from "../../../core/certificate/certificate.js";
import type { Library } from "../../../core/grades/grade.js";
import { buildReport, type JudgedDocument } from "../../../core/report/build-report.js";
import { loadLibrary } from "../../../worker/store/grade-files.js";
import { clean304L, heatOf, reading, statement } from "../../support/heat.js";

let library: Library;
beforeAll(async () => {
  library = await loadLibrary();
});

function record(heat: string, readings = clean304L()): HeatRecord {
  const joined = heatOf(readings);
  return { heat: statement(heat), readings, claims: joined.claims, product: {} };
}

function document(heats: readonly HeatRecord[], more: Partial<Certificate> = {}): JudgedDocument {
  return {
    name: "certificate.csv",
    sha256: "0".repeat(64),
    reader: "csv",
    content: { kind: "certificate", certificate: { heats, doubts: [], ...more } },
  };
}

const unreadable: JudgedDocument = {
  name: "scan.bin",
  sha256: "1".repeat(64),
  reader: "none",
  content: {
    kind: "problem",
    code: "unsupported-type",
    message: "This is no document that can be read.",
    advice: "Send a PDF.",
  },
};

const build = (documents: readonly JudgedDocument[]) => buildReport({ documents, requirement: null, library });

describe("buildReport", () => {
  it("joins documents by heat number, spaces and hyphens apart", () => {
    const report = build([
      document([record("H 4471", clean304L({ C: null }))]),
      document([record("H-4471", [reading("C", "0.021")])]),
    ]);
    expect(report.heats.map(({ heat, verdict }) => [heat, verdict])).toEqual([["H 4471", "pass"]]);
  });

  it("takes the verdict of the worst heat", () => {
    const other = clean304L({ C: "0.05", Rm: "588", "Rp0.2": "270", A50: "50" });
    const report = build([document([record("H1"), record("H2", other)])]);
    expect([report.verdict, ...report.heats.map(({ verdict }) => verdict)]).toEqual(["fail", "pass", "fail"]);
  });

  it("does not pass a submission of which a document could not be read", () => {
    const report = build([document([record("H1")]), unreadable]);
    expect(report.heats[0]?.verdict).toBe("pass");
    expect(report.verdict).toBe("undetermined");
    expect(report.documents[1]?.doubts[0]).toEqual({
      code: "unsupported-type",
      message: "This is no document that can be read. Send a PDF.",
    });
  });

  it("has not passed where there is no heat at all", () => {
    expect(build([document([])]).verdict).toBe("undetermined");
  });

  it("sees equal results of different heats as a contradiction on both", () => {
    const report = build([document([record("H1"), record("H2")])]);
    expect(report.heats.map(({ verdict }) => verdict)).toEqual(["undetermined", "undetermined"]);
    const said = report.heats[0]?.findings.map(({ message }) => message).join(" ");
    expect(said).toMatch(/results .* the same as those of heat H2.*analysis .* the same as that of heat H2/);
  });

  it("sees a test that is younger than its certificate", () => {
    const report = build([
      document([record("H1")], { date: statement("2026-03-02"), testDate: statement("2026-03-05") }),
    ]);
    expect(report.heats[0]?.findings.at(-1)?.message).toContain("after the certificate's date");
  });

  it("names every grade file that was used, carries the cautions, and is the same for the same input", () => {
    const report = build([document([record("H1")])]);
    expect(report.library).toEqual([
      { id: "astm-a240/2007e1/s30403", digest: expect.stringMatching(/^sha256:[0-9a-f]{64}$/) },
    ]);
    expect(report.cautions[0]).toContain("assists a competent person");
    expect(JSON.stringify(build([document([record("H1")])]))).toBe(JSON.stringify(report));
  });

  it("computes the indices of the heat for information", () => {
    const names = build([document([record("H1")])]).heats[0]?.computed?.map(({ name }) => name);
    expect(names).toContain("Md30 (Angel)");
  });
});
