import { fitLine, type LineFit } from "../statistics/line-fit.js";
import { firstAtLeast, type TensileCurve } from "./curve.js";

/** The straight part of a curve, with the work shown. */
export interface ElasticLine {
  readonly slopeMPa: number;
  readonly slopeStandardErrorMPa: number;
  readonly residualMPa: number;
  readonly rSquared: number;
  readonly points: number;
  /** Strain at which the line meets zero stress: toe, preload and zero error of the extensometer together. */
  readonly zeroStrain: number;
  /** Stress window that was asked for, MPa. */
  readonly window: { readonly fromMPa: number; readonly toMPa: number };
  /** Samples used: from `first` up to but not including `end`. */
  readonly first: number;
  readonly end: number;
}

/**
 * Fits the elastic line to the first rise of the curve through a stress window; undefined where fewer than three samples lie there.
 *
 * The samples are taken as one stretch by position, not picked by value: picking noisy samples by their stress tilts the line.
 */
export function fitElasticLine(curve: TensileCurve, fromMPa: number, toMPa: number): ElasticLine | undefined {
  const above = firstAtLeast(curve.stressMPa, toMPa);
  if (above === undefined) return undefined;
  let first = above;
  while (first > 0 && curve.stressMPa[first - 1]! >= fromMPa) first--;
  const end = curve.stressMPa[above]! === toMPa ? above + 1 : above;

  const fit = fitLine(curve.strain, curve.stressMPa, first, end);
  return fit && fit.slope > 0 ? lineFrom(fit, first, end, fromMPa, toMPa) : undefined;
}

function lineFrom(fit: LineFit, first: number, end: number, fromMPa: number, toMPa: number): ElasticLine {
  return {
    slopeMPa: fit.slope,
    slopeStandardErrorMPa: fit.slopeStandardError,
    residualMPa: fit.residualStandardDeviation,
    rSquared: fit.rSquared,
    points: fit.points,
    zeroStrain: -fit.intercept / fit.slope,
    window: { fromMPa, toMPa },
    first,
    end,
  };
}

/** The same line turned to another slope about the middle of its window: how much hangs on the slope? */
export function withSlope(line: ElasticLine, slopeMPa: number): ElasticLine {
  const middleMPa = (line.window.fromMPa + line.window.toMPa) / 2;
  const middleStrain = line.zeroStrain + middleMPa / line.slopeMPa;
  return { ...line, slopeMPa, zeroStrain: middleStrain - middleMPa / slopeMPa };
}

/** Standard uncertainty of the line's strain where it is carried on to a stress above its window. */
export function strainUncertainty(line: ElasticLine, stressMPa: number): number {
  const middleMPa = (line.window.fromMPa + line.window.toMPa) / 2;
  const ofPosition = line.residualMPa / line.slopeMPa / Math.sqrt(line.points);
  const ofTurning = ((stressMPa - middleMPa) * line.slopeStandardErrorMPa) / line.slopeMPa ** 2;
  return Math.hypot(ofPosition, ofTurning);
}
