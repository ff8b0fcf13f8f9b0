import { describePlace, type Evidence } from "../certificate/evidence.js";
import type { Report } from "./report.js";

/** "cert-4471.xlsx, sheet Analysis, cell D7": a place that a person can go to. */
export function placeText(evidence: Evidence, report: Report): string {
  const name = report.documents[evidence.document]?.name ?? `document ${evidence.document + 1}`;
  return `${name}, ${describePlace(evidence)}`;
}
