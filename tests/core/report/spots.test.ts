import { expect, test } from "vitest";
import type { Evidence } from "../../../core/certificate/evidence.js";
import { renderHtml } from "../../../core/report/html.js";
import type { Report, ReportHeat, ReportReading } from "../../../core/report/report.js";
import { type SpotPicture, spotsToPicture } from "../../../core/report/spot-picture.js";
import type { Finding, Outcome } from "../../../core/verdict/finding.js";
import { exampleReport } from "./example-report.js";

const at = (y: number, page = 1) => ({ document: 0, page, box: [10, y, 20, 9] }) as const;
const PNG = "iVBORw0KGgo=";

function reading(id: number, quantity: string, y: number, confidence = 1): ReportReading {
  return { id, quantity, printed: `p${id}`, value: "1", unit: "%", confidence, evidence: at(y) };
}

function finding(outcome: Outcome, readings: number[], quantity = "C"): Finding {
  return {
    outcome,
    quantity,
    readings,
    source: { standard: "ASTM A240/A240M", known: "seen in 3 sources", verified: true },
    message: `${quantity} is what it is.`,
  };
}

const heat: ReportHeat = {
  heat: "H4471",
  evidence: [at(5)],
  verdict: "fail",
  grades: [],
  readings: [
    reading(1, "C", 10),
    reading(2, "Mn", 20),
    reading(3, "P", 30, 0.84),
    reading(4, "S", 40),
    reading(5, "N", 50),
  ],
  findings: [finding("pass", [1]), finding("fail", [2], "Mn"), finding("pass", [3, 5], "P")],
};
const doubt = { code: "not-a-number", message: "Not a number.", evidence: at(60) };
const report: Report = {
  ...exampleReport,
  documents: [{ name: "scan.pdf", sha256: "1".repeat(64), reader: "pdf", doubts: [doubt] }],
  heats: [heat],
};

const pictured = (evidence: Evidence): SpotPicture => ({
  spot: evidence as SpotPicture["spot"],
  picture: { png: PNG, widthPx: 200, heightPx: 60 },
});
const everywhere = [5, 10, 20, 30, 40, 50, 60].map((y) => pictured(at(y)));
const withHeat = (change: Partial<ReportHeat>): Report => ({ ...report, heats: [{ ...heat, ...change }] });
const inDoubt = withHeat({ findings: [...heat.findings, finding("undetermined", [], "heat number")] });

const countIn = (page: string, part: string) => page.split(part).length - 1;

test("spots: first what was not read surely, then doubts, then what failed, then the rest; unjudged readings not at all", () => {
  expect(spotsToPicture(report).map(({ box }) => box[1])).toEqual([30, 60, 20, 10, 50]);
  expect(spotsToPicture(inDoubt).map(({ box }) => box[1])).toEqual([5, 30, 60, 20, 10, 50]);
});

test("spots: a place that several readings share is one, and a cell is none", () => {
  const cell = { ...reading(6, "Cr", 0), evidence: { document: 0, sheet: "S", cell: "A1" } };
  const shared = withHeat({
    readings: [reading(1, "C", 10), reading(2, "Mn", 10), cell],
    findings: [finding("fail", [1, 2, 6])],
  });
  expect(spotsToPicture(shared).map(({ box }) => box[1])).toEqual([60, 10]);
});

test("page: what has to be compared stands with the heat's verdict, the least certain first; every picture is there once", () => {
  const page = renderHtml(report, undefined, everywhere);
  const section = page.slice(page.indexOf('id="heat-1"'), page.indexOf('id="heat-1-all"'));
  expect([...section.matchAll(/alt="([^"]*)"/g)].map(([, alt]) => alt)).toEqual([
    "Phosphorus, read as “p3”, in scan.pdf, page 1",
    "Manganese, read as “p2”, in scan.pdf, page 1",
  ]);
  expect(section).toContain("Phosphorus, read as “p3”, 84\u00a0% certain");
  expect(countIn(page, `src="data:image/png;base64,${PNG}"`)).toBe(6);
  expect(page).toContain('<a href="#heat-1-spot-3">picture</a>');
});

test("page: a heat number in doubt is shown too", () => {
  expect(renderHtml(inDoubt, undefined, everywhere)).toContain("<p>Heat number, read as “H4471”</p>");
  expect(renderHtml(report, undefined, everywhere)).not.toContain("Heat number, read as");
});

test("page: where there is no picture it says why, and still leads to the place", () => {
  const page = renderHtml(report, undefined, [
    { spot: at(30), picture: "not-made" },
    { spot: at(20), picture: "too-many" },
  ]);
  expect(page).toContain("No picture: the page could not be drawn");
  expect(page).toContain("No picture: the report has room only for those before it");
  expect(page).not.toContain("<img");
});

test("page: without pictures it is as it was", () => {
  expect(renderHtml(report)).not.toMatch(/Compare with the document|class="spot|No picture/);
});

test("page: what a document says cannot leave the picture's words", () => {
  const sly = { ...reading(3, "P", 30, 0.5), printed: '"><script>' };
  const page = renderHtml(withHeat({ readings: [sly] }), undefined, everywhere);
  expect(page).toContain("read as “&quot;&gt;&lt;script&gt;”");
  expect(page).not.toContain("<script");
});
