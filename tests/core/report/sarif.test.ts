import type { Log } from "sarif";
import { expect, test } from "vitest";
import { renderSarif, sarifLog } from "../../../core/report/sarif.js";
import { exampleReport } from "./example-report.js";

// The types are those of SARIF 2.1.0 (OASIS, 2020), so the compiler checks every property name and every closed word.
const log = sarifLog(exampleReport) satisfies Log;
const [run] = log.runs;
const results = run!.results;

test("the outcomes become SARIF's kinds, and only a fail has a level", () => {
  expect(results.map(({ kind, level, properties }) => [properties.outcome, kind, level])).toEqual([
    ["fail", "fail", "error"],
    ["pass", "pass", "none"],
    ["undetermined", "review", "none"],
    ["pass", "pass", "none"],
    ["pass", "pass", "none"],
    ["fail", "fail", "error"],
    ["undetermined", "open", "none"],
    ["pass", "pass", "none"],
    ["not-applicable", "notApplicable", "none"],
    ["pass", "pass", "none"],
  ]);
});

test("every result points at its rule and at a document that is listed with its hash", () => {
  const { rules } = run!.tool.driver;
  for (const { ruleId, ruleIndex, locations } of results) {
    expect(rules[ruleIndex]?.id).toBe(ruleId);
    for (const { physicalLocation } of locations) {
      if (!physicalLocation) continue;
      const { uri, index } = physicalLocation.artifactLocation;
      expect(run!.artifacts[index]?.location.uri).toBe(uri);
    }
  }
  expect(run!.artifacts.map(({ hashes }) => hashes["sha-256"])).toEqual(
    exampleReport.documents.map(({ sha256 }) => sha256),
  );
});

test("a line is a region; a cell is named without marking a wrong line", () => {
  const impact = results[5]!.locations[0]!;
  expect(impact.physicalLocation?.region).toEqual({ startLine: 5 });
  const carbon = results[0]!.locations[0]!;
  expect(carbon.physicalLocation?.region).toBeUndefined();
  expect(carbon.message?.text).toBe("sheet Analysis, cell C8");
});

test("fingerprints are unique and do not depend on the value", () => {
  const prints = results.map(({ fingerprints }) => fingerprints["heatgate/v1"]);
  expect(new Set(prints).size).toBe(prints.length);
  const [first, ...others] = exampleReport.heats;
  const findings = first!.findings.map((finding) => ({
    ...finding,
    judged: "9",
    message: "other",
    outcome: "fail" as const,
  }));
  const corrected = sarifLog({ ...exampleReport, heats: [{ ...first!, findings }, ...others] });
  expect(corrected.runs[0]!.results.map(({ fingerprints }) => fingerprints["heatgate/v1"])).toEqual(prints);
});

test("doubts are warnings of the run", () => {
  const [invocation] = run!.invocations;
  expect(invocation!.toolExecutionNotifications.map(({ descriptor }) => descriptor.id)).toEqual([
    "not-a-number",
    "sheet-hidden",
  ]);
});

test("lists that must hold no element twice hold none, also when one document was handed in twice", () => {
  const [document] = exampleReport.documents;
  const twice = sarifLog({ ...exampleReport, documents: [document!, document!] }).runs[0]!;
  for (const list of [twice.artifacts, twice.tool.driver.rules, ...twice.results.map((one) => one.relatedLocations)]) {
    expect(new Set(list.map((item) => JSON.stringify(item))).size).toBe(list.length);
  }
});

test.each(["a b#c?.xlsx", "../../etc/passwd", "..", "", "half \ud800.csv", "https://example.org/x"])(
  "document name %j becomes a relative address of one step",
  (name) => {
    const documents = exampleReport.documents.map((document) => ({ ...document, name }));
    const { uri } = sarifLog({ ...exampleReport, documents }).runs[0]!.artifacts[0]!.location;
    const base = "https://base.invalid/folder/";
    const resolved = new URL(uri, base).href;
    expect(resolved.startsWith(base)).toBe(true);
    expect(resolved.slice(base.length)).toMatch(/^[^/]+$/);
  },
);

test("the text is the log", () => {
  expect(JSON.parse(renderSarif(exampleReport))).toEqual(JSON.parse(JSON.stringify(log)));
});
