import type { TensileCurve } from "./curve.js";

/**
 * Area under the engineering curve, by trapezoids: the work done on a unit of volume. MPa times strain is MJ/m3.
 * Samples are taken in the order of the record; a strain that steps back takes its area away again.
 */
export function areaUnderCurveMJPerM3(curve: TensileCurve, end: number = curve.strain.length): number {
  const { strain, stressMPa } = curve;
  let area = 0;
  for (let i = 1; i < end; i++) area += ((stressMPa[i]! + stressMPa[i - 1]!) / 2) * (strain[i]! - strain[i - 1]!);
  return area;
}

/** Modulus of resilience: elastic energy stored at the proof strength, Rp0.2² / 2E. */
export function resilienceMJPerM3(proofStrengthMPa: number, slopeMPa: number): number {
  return (proofStrengthMPa * proofStrengthMPa) / (2 * slopeMPa);
}
