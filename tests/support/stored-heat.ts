import { createHash } from "node:crypto";
import type { Report, ReportDocument, ReportHeat, ReportReading } from "../../core/report/report.js";

/** A reading as reports keep it, in the first document's line of its own number. */
export function storedReading(quantity: string, value: string, more: Partial<ReportReading> = {}): ReportReading {
  const unit = { KV: "J", LE: "mm", C: "%", A: "%" }[quantity] ?? "MPa";
  const id = more.id ?? 1;
  return {
    id,
    quantity,
    printed: value,
    value,
    unit,
    confidence: 1,
    evidence: { document: 0, line: id, column: 1 },
    ...more,
  };
}

export function storedHeat(heat: string, grade: string, readings: readonly ReportReading[]): ReportHeat {
  const grades = [{ id: grade, standard: "ASTM A240/A240M", edition: "2007e1", name: grade, chosen: "claimed" }];
  return {
    heat,
    verdict: "pass",
    grades,
    readings: readings.map((reading, index) => ({
      ...reading,
      id: index + 1,
      evidence: { document: reading.evidence.document, line: index + 1, column: 1 },
    })),
    findings: [],
  };
}

export function storedDocument(name: string, more: Partial<ReportDocument> = {}): ReportDocument {
  const sha256 = createHash("sha256").update(name).digest("hex");
  return { name, sha256, reader: "csv", doubts: [], ...more };
}

export function storedReport(heats: readonly ReportHeat[], documents: readonly ReportDocument[]): Report {
  return { report: 1, verdict: "pass", requirement: null, documents, heats, library: [], cautions: [] };
}

/** As `finish` takes it. */
export function finishedWith(report: Report) {
  const json = JSON.stringify(report);
  const heats = { fail: 0, undetermined: 0, pass: report.heats.length, "not-applicable": 0 };
  return { json, digest: createHash("sha256").update(json).digest("hex"), verdict: report.verdict, heats };
}
