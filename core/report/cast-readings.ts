import type { EarlierReading } from "../certificate/earlier-reading.js";
import { isElement } from "../quantity/quantity.js";
import { isSure } from "../verdict/consistency/cast-analysis.js";
import type { Report, ReportHeat, ReportReading } from "./report.js";

/** The cast analysis of a heat as the report has it, to be held against later submissions of the same heat. */
export function castReadings(submission: string, heat: ReportHeat, report: Report): readonly EarlierReading[] {
  return heat.readings.filter(isCast).map(({ quantity, value, printed, evidence }) => {
    const { document, ...place } = evidence;
    const { name, sha256, issuer } = report.documents[document]!;
    return { quantity, value, printed, submission, document: { name, sha256, ...(issuer && { issuer }) }, place };
  });
}

function isCast(reading: ReportReading): boolean {
  return (
    isElement(reading.quantity) &&
    reading.unit === "%" &&
    (reading.zone ?? "base") === "base" &&
    (reading.analysis ?? "heat") === "heat" &&
    reading.bound === undefined &&
    isSure(reading)
  );
}
