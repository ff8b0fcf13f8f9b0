import { expect, test } from "vitest";
import { buildReport } from "../../../core/report/build-report.js";
import type { Report } from "../../../core/report/report.js";
import { reportDifference } from "../../../core/report/report-difference.js";
import type { ProjectLimit } from "../../../core/requirement/requirement.js";
import { reading, statement } from "../../support/heat.js";

/** One heat of 0.021 % carbon and 0.002 % sulphur under a project's limits. */
function reportUnder(limits: readonly ProjectLimit[], name = "T-204"): Report {
  const heats = [
    { heat: statement("N1"), readings: [reading("C", "0.021"), reading("S", "0.002")], claims: [], product: {} },
  ];
  const content = { kind: "certificate", certificate: { heats, doubts: [] } } as const;
  return buildReport({
    documents: [{ name: "a.csv", sha256: "ab".repeat(32), reader: "csv", content }],
    requirement: { value: { requirement: 1, name, limits: [...limits] }, digest: "sha256:x" },
    library: { grades: [], tolerances: [] },
  });
}

const max = (quantity: "C" | "S" | "P", value: string): ProjectLimit => ({ quantity, max: value, unit: "%" });
const differ = (before: Report, after: Report) => reportDifference(before, after).heats[0]!;
const words = ({ findings }: ReturnType<typeof differ>) =>
  findings.map(({ before, after }) => [before?.quantity, before?.outcome, after?.quantity, after?.outcome]);

test("the same requirement changes nothing, and neither does another name for it", () => {
  const before = reportUnder([max("C", "0.030")]);
  expect(differ(before, before)).toMatchObject({ unchanged: 1, findings: [] });
  expect(differ(before, reportUnder([max("C", "0.030")], "T-204 rev. B"))).toMatchObject({
    unchanged: 1,
    findings: [],
  });
});

test("a harder limit is the same finding with another outcome, whatever stands before it", () => {
  const before = reportUnder([max("C", "0.030"), max("S", "0.010")]);
  const after = reportUnder([max("S", "0.010"), max("C", "0.020")]);
  const difference = reportDifference(before, after);
  expect(difference.verdict).toEqual({ before: "pass", after: "fail" });
  expect(difference.heats[0]).toMatchObject({ verdict: { before: "pass", after: "fail" }, unchanged: 1 });
  expect(words(difference.heats[0]!)).toEqual([["C", "pass", "C", "fail"]]);
});

test("another bound is a change, although the outcome is the same", () => {
  expect(words(differ(reportUnder([max("C", "0.030")]), reportUnder([max("C", "0.025")])))).toEqual([
    ["C", "pass", "C", "pass"],
  ]);
});

test("what is no longer asked and what is newly asked stand alone", () => {
  expect(words(differ(reportUnder([max("C", "0.030")]), reportUnder([max("P", "0.045")])))).toEqual([
    ["C", "pass", undefined, undefined],
    [undefined, undefined, "P", "undetermined"],
  ]);
});

test("one heat of several can be asked for", () => {
  const report = reportUnder([max("C", "0.030")]);
  expect(reportDifference(report, report, "N2").heats).toEqual([]);
  expect(reportDifference(report, report, "N1").heats).toHaveLength(1);
});
