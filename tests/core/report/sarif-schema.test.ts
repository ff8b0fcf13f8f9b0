import { expect, test } from "vitest";
import type { Report } from "../../../core/report/report.js";
import { renderSarif } from "../../../core/report/sarif.js";
import type { Outcome } from "../../../core/verdict/finding.js";
import { HOSTILE_NAMES } from "../../support/hostile-names.js";
import { sarifFaults } from "../../support/sarif-schema.js";
import { exampleReport } from "./example-report.js";
import { namedReport } from "./named-report.js";

test("the schema finds what is no SARIF", () => {
  const log = JSON.parse(renderSarif(exampleReport));
  const [result] = log.runs[0].results;
  result.kind = "failed";
  result.locations[0].physicalLocation.artifactLocation.uri = "a b";
  result.extra = true;
  expect(sarifFaults(JSON.stringify(log))).toEqual([
    "/runs/0/results/0 must NOT have additional properties",
    "/runs/0/results/0/kind must be equal to one of the allowed values",
    '/runs/0/results/0/locations/0/physicalLocation/artifactLocation/uri must match format "uri-reference"',
  ]);
});

test.each(["pass", "fail", "undetermined", "not-applicable"] as const)("a report whose findings are %s", (outcome) => {
  const only = (kept: Outcome) => exampleReport.heats.map((heat) => ({ ...heat, findings: of(heat.findings, kept) }));
  const report: Report = { ...exampleReport, verdict: outcome, heats: only(outcome) };
  expect(report.heats.flatMap(({ findings }) => findings)).not.toEqual([]);
  expect(sarifFaults(renderSarif(report))).toEqual([]);
});

test.each(["pdf", "image", "tree"])("places on a page and in a tree are valid as well: %s", (reader) => {
  const evidence =
    reader === "tree" ? { document: 0, pointer: "/a b/%" } : ({ document: 0, page: 2, box: [1, 2, 3, 4] } as const);
  const [heat] = exampleReport.heats;
  const readings = heat!.readings.map((reading) => ({ ...reading, evidence }));
  expect(sarifFaults(renderSarif({ ...exampleReport, heats: [{ ...heat!, readings }] }))).toEqual([]);
});

test("a report without a heat or a document", () => {
  expect(sarifFaults(renderSarif({ ...exampleReport, documents: [], heats: [] }))).toEqual([]);
});

test.each(HOSTILE_NAMES)("a heat, a document and all texts about them called %j", (name) => {
  const text = renderSarif(namedReport(name));
  expect(sarifFaults(text)).toEqual([]);
  // No viewer may be steered by what a document says.
  for (const shown of messages(JSON.parse(text))) {
    expect(shown).not.toMatch(/[\p{Cc}\p{Cs}\u202e\u2066]/u);
    expect(shown).not.toMatch(/(?<!\\)\[[^\]]*\]\(/);
    expect(shown.replaceAll("{{", "").replaceAll("}}", "")).not.toMatch(/[{}]/);
  }
});

/** Every text that SARIF calls a message. */
function messages(value: unknown): readonly string[] {
  if (Array.isArray(value)) return value.flatMap(messages);
  if (typeof value !== "object" || value === null) return [];
  return Object.entries(value).flatMap(([key, inner]) => (key === "text" ? [String(inner)] : messages(inner)));
}

function of<Item extends { readonly outcome: Outcome }>(items: readonly Item[], outcome: Outcome): Item[] {
  return items.filter((item) => item.outcome === outcome);
}
