import type { CurveDoubt } from "./curve-doubt.js";
import type { Specimen } from "./record.js";
import { finalSectionMm2 } from "./section.js";

export interface PieceResult {
  readonly percent?: number;
  readonly doubts: readonly CurveDoubt[];
}

/** A = 100 (Lu - L0) / L0, from the halves fitted together (ISO 6892-1:2019, clause 20.1). */
export function elongationOfPiece(specimen: Specimen): PieceResult {
  const original = specimen.gaugeLengthMm?.value;
  const final = specimen.finalLengthMm?.value;
  if (original === undefined || final === undefined) return { doubts: [] };
  if (final > original) return { percent: (100 * (final - original)) / original, doubts: [] };
  const message =
    `The final length ${final} mm is not above the original ${original} mm: it looks like a field that was never filled in. ` +
    "It was not used.";
  return { doubts: [{ code: "final-length-not-measured", message, affects: [] }] };
}

/** Z = 100 (S0 - Su) / S0 (ISO 6892-1:2019, clause 21). */
export function reductionOfPiece(specimen: Specimen, areaMm2: number): PieceResult {
  const final = finalSectionMm2(specimen);
  if (final === undefined) return { doubts: [] };
  if (final > 0 && final < areaMm2 * 0.9999) return { percent: (100 * (areaMm2 - final)) / areaMm2, doubts: [] };
  const message =
    `The final section ${Number(final.toPrecision(6))} mm² is not below the original ${Number(areaMm2.toPrecision(6))} mm²: ` +
    "it looks like a field that was never filled in. It was not used.";
  return { doubts: [{ code: "final-section-not-measured", message, affects: [] }] };
}
