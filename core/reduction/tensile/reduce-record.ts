import type { Quantity } from "../../quantity/quantity.js";
import { estimateNoise } from "../statistics/noise.js";
import { buildCurve } from "./build-curve.js";
import { chooseElasticLine } from "./choose-window.js";
import { compareStated } from "./compare-stated.js";
import { elasticStrain, type TensileCurve } from "./curve.js";
import type { CurveDoubt } from "./curve-doubt.js";
import type { ElasticLine } from "./elastic-line.js";
import { elongationOn } from "./gauge-length.js";
import { findHighestStress, type HighestStress } from "./highest-stress.js";
import { loadDoubts } from "./load-doubts.js";
import { elongationOfPiece, reductionOfPiece } from "./measured-on-piece.js";
import { proofStrength } from "./proof-strength.js";
import type { Specimen, TensileRecord } from "./record.js";
import { recordDoubts } from "./record-health.js";
import { reduceStrains } from "./reduce-strains.js";
import { reduceStrengths } from "./reduce-strengths.js";
import type { ReducedResult, TensileReduction } from "./reduction.js";
import { slopeDoubts, strengthDoubts } from "./slope-doubts.js";
import { strainStepDoubts } from "./strain-steps.js";
import { findYieldPoint } from "./yield-point.js";

/**
 * Reduces one tensile record by ISO 6892-1 (ASTM E8/E8M names the same quantities).
 *
 * The order matters: Rm sets the window of the elastic line, the line sets where yielding is looked for, and yielding decides
 * whether the highest stress before it may be called Rm at all.
 */
export function reduceRecord(record: TensileRecord): TensileReduction {
  const built = buildCurve(record);
  if (!("curve" in built)) return { results: [], doubts: built.doubts, notes: record.notes };
  const { curve, allStressMPa, section } = built;

  const noiseMPa = estimateNoise(allStressMPa);
  const highest = highestStress(curve, allStressMPa, noiseMPa);
  const line = chooseElasticLine(curve, highest.stressMPa);
  const yieldPoint = line && findYieldPoint(curve, line, noiseMPa);
  const work = { curve, highest, noiseMPa, ...(line && { line }), ...(yieldPoint && { yieldPoint }) };

  const proofMPa = line && (yieldPoint?.upperMPa ?? proofStrength(curve, line, 0.002)?.stressMPa);
  const doubts = [
    ...built.doubts,
    ...recordDoubts(curve, allStressMPa, { seconds: record.columns.timeSeconds, curveRows: built.rows }, noiseMPa),
    ...loadDoubts(allStressMPa, highest.stressMPa, proofMPa, noiseMPa),
    ...strainStepDoubts(curve, line ? endOfProof(curve, line) : curve.strain.length),
    ...unitDoubts(curve, line, highest.stressMPa, record.specimen),
  ];
  const results = [...reduceStrengths(work, allStressMPa), ...reduceStrains(work, record.specimen, section?.areaMm2)];
  const measured = measuredOnPiece(record, section?.areaMm2);
  const { kept: all, dropped } = dropImpossible(merge(results, measured.results));
  return {
    results: all,
    doubts: [...doubts, ...dropped, ...measured.doubts, ...compareStated(record.stated, all)],
    notes: [...record.notes, ...built.notes],
    work,
  };
}

/** Where the slope has told already that a unit is wrong, the strength need not tell it again. */
function unitDoubts(
  curve: TensileCurve,
  line: ElasticLine | undefined,
  strengthMPa: number,
  specimen: Specimen,
): CurveDoubt[] {
  const ofSlope = line ? slopeDoubts(curve, line, specimen) : [noElasticLine];
  if (ofSlope.some(({ code }) => code === "units-suspect")) return ofSlope;
  return [...ofSlope, ...strengthDoubts(curve, line, strengthMPa, specimen.material?.value)];
}

/** Beyond every plastic strain that a proof strength is asked for. */
const BEYOND_PROOF = 0.011;

/** First sample beyond the proof strengths. */
function endOfProof(curve: TensileCurve, line: ElasticLine): number {
  const { strain, stressMPa } = curve;
  let i = line.end;
  while (i < strain.length && strain[i]! - elasticStrain(line, stressMPa[i]!) < BEYOND_PROOF) i++;
  return i;
}

const noElasticLine: CurveDoubt = {
  code: "no-elastic-line",
  message:
    "No straight elastic part with at least three samples was found, so proof strengths, modulus and plastic elongations " +
    "were not computed.",
  affects: [],
};

/** No strength, modulus or elongation of any metal comes near this number in its unit: the record holds no measurements. */
const IMPOSSIBLE = 1e9;

function dropImpossible(results: readonly ReducedResult[]) {
  const isPossible = ({ value }: ReducedResult) => Math.abs(value) < IMPOSSIBLE; // false for NaN as well
  const kept = results.filter(isPossible);
  if (kept.length === results.length) return { kept, dropped: [] };
  const names = results.filter((result) => !isPossible(result)).map(({ quantity }) => quantity);
  const message = `${names.join(", ")} came out as no possible value and ${names.length === 1 ? "was" : "were"} left out: check the numbers.`;
  return { kept, dropped: [{ code: "impossible-value", message, affects: [] }] };
}

/** Stretch of strain within which the top of a curve is flat enough to average noise away. */
const FLAT_STRAIN = 0.001;

function highestStress(curve: TensileCurve, allStressMPa: Float64Array, noiseMPa: number): HighestStress {
  const length = curve.strain.length;
  const perSample = length > 1 ? (curve.strain[length - 1]! - curve.strain[0]!) / (length - 1) : 0;
  const flatSamples = perSample > 0 ? FLAT_STRAIN / perSample : 1;
  return findHighestStress(allStressMPa, noiseMPa, flatSamples);
}

function measuredOnPiece(record: TensileRecord, areaMm2: number | undefined) {
  const { specimen } = record;
  const elongation = elongationOfPiece(specimen);
  const reduction = areaMm2 === undefined ? { doubts: [] } : reductionOfPiece(specimen, areaMm2);
  const results: ReducedResult[] = [];
  if (elongation.percent !== undefined) {
    const gaugeMm = specimen.gaugeLengthMm!.value;
    const quantity = areaMm2 === undefined ? "Elongation" : elongationOn(gaugeMm, areaMm2, specimen.diameterMm?.value);
    const note = `from the halves fitted together: L0 ${gaugeMm} mm, Lu ${specimen.finalLengthMm!.value} mm`;
    results.push({ quantity, value: elongation.percent, notes: [note] });
  }
  if (reduction.percent !== undefined) {
    results.push({ quantity: "Z", value: reduction.percent, notes: ["from the section measured after fracture"] });
  }
  return { results, doubts: [...elongation.doubts, ...reduction.doubts] };
}

/** What was measured on the broken piece goes before what the extensometer says: ISO 6892-1:2019, clause 20.1. */
function merge(fromCurve: readonly ReducedResult[], fromPiece: readonly ReducedResult[]): readonly ReducedResult[] {
  const measured = new Map<Quantity, ReducedResult>(fromPiece.map((result) => [result.quantity, result]));
  const rest = fromCurve.filter(({ quantity }) => !measured.has(quantity));
  return [...rest, ...fromPiece];
}
