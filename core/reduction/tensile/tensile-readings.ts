import type { HeatRecord, Reading } from "../../certificate/certificate.js";
import type { Doubt, Evidence } from "../../certificate/evidence.js";
import { type Quantity, reportUnit } from "../../quantity/quantity.js";
import { heatOfRecord } from "../heat-of-record.js";
import type { CurveDoubt } from "./curve-doubt.js";
import type { TensileRecord } from "./record.js";
import type { ReducedResult, TensileReduction } from "./reduction.js";
import { printResult } from "./round-result.js";

/** A value that a doubt touches is shown, and decides nothing: well below the confidence that findings need. */
const DOUBTED_CONFIDENCE = 0.5;

/** One reduced tensile test as a heat's readings. Evidence is the curve itself: its first cell; the notes show the work. */
export function tensileHeat(
  record: TensileRecord,
  reduction: TensileReduction,
  documentIndex: number,
): { readonly heats: readonly HeatRecord[]; readonly doubts: readonly Doubt[] } {
  const evidence: Evidence = { ...record.place, document: documentIndex };
  const { id, material } = record.specimen;
  const named = heatOfRecord(record.specimen.heat, id?.value, evidence);
  const readings = reduction.results.map((result) => toReading(record, result, reduction.doubts, evidence));
  const doubts = [
    ...record.doubts.map(({ code, message, place }) => ({
      code,
      message,
      evidence: place ? { ...place, document: documentIndex } : evidence,
      heat: named.heat.value,
    })),
    ...reduction.doubts.map((doubt) => toDoubt(doubt, evidence, named.heat.value)),
    ...named.doubts,
  ];
  const claim = material && {
    value: { grade: material.value },
    printed: material.printed,
    confidence: 1,
    evidence: material.place ? { ...material.place, document: documentIndex } : evidence,
  };
  return { heats: [{ heat: named.heat, readings, claims: claim ? [claim] : [], product: {} }], doubts };
}

/** One quantity alone: the judge can hold it back by name. More than one: each reading carries it as lost confidence. */
function toDoubt(doubt: CurveDoubt, evidence: Evidence, heat: string): Doubt {
  const only = doubt.affects.length === 1 ? { quantity: doubt.affects[0]! } : {};
  return { code: doubt.code, message: doubt.message, evidence, heat, ...only };
}

function toReading(
  record: TensileRecord,
  result: ReducedResult,
  doubts: readonly CurveDoubt[],
  evidence: Evidence,
): Reading {
  const { specimen } = record;
  const { unrounded, rounded } = printResult(result.quantity, result.value);
  const because = [
    ...doubtsOn(result.quantity, [...record.doubts, ...doubts]),
    ...(result.doubtful ? [result.doubtful] : []),
  ];
  return {
    quantity: result.quantity,
    printed: rounded,
    value: unrounded,
    unit: reportUnit(result.quantity),
    confidence: because.length > 0 ? DOUBTED_CONFIDENCE : 1,
    evidence,
    ...(specimen.zone && { zone: specimen.zone.value }),
    ...(specimen.temperature && { temperature: specimen.temperature.value }),
    ...(specimen.orientation && { orientation: specimen.orientation.value }),
    ...(specimen.id && { test: specimen.id.value }),
    notes: [
      `reduced from ${record.rows} samples; ISO 6892-1 reports ${rounded} ${reportUnit(result.quantity)}`,
      ...result.notes,
      ...because.map((code) => `doubted: ${code}`),
    ],
  };
}

function doubtsOn(quantity: Quantity, doubts: readonly Pick<CurveDoubt, "code" | "affects">[]): string[] {
  return doubts.filter(({ affects }) => affects.includes(quantity)).map(({ code }) => code);
}
