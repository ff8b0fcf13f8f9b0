import { fitLine } from "../statistics/line-fit.js";
import type { TensileCurve } from "./curve.js";
import { elasticStrain } from "./curve.js";
import { type ElasticLine, strainUncertainty } from "./elastic-line.js";

export interface ProofStrength {
  readonly stressMPa: number;
  readonly strain: number;
  /** Stress step between the samples on either side: how coarsely the record crosses the line. */
  readonly stepMPa: number;
  /** Samples that the value rests on: two for a clean crossing, more where noise had to be averaged. */
  readonly samples: number;
}

/**
 * Stress at which the plastic strain reaches `plasticStrain` (0.002 for Rp0.2): ISO 6892-1:2019, clause 13.1, a parallel to the
 * elastic line. Undefined where the curve never gets there.
 */
export function proofStrength(
  curve: TensileCurve,
  line: { readonly slopeMPa: number; readonly zeroStrain: number; readonly first: number },
  plasticStrain: number,
): ProofStrength | undefined {
  return crossing(
    curve,
    line.first,
    (i) => curve.strain[i]! - elasticStrain(line, curve.stressMPa[i]!) - plasticStrain,
  );
}

/**
 * Standard uncertainty that noise leaves in a proof strength: the noise of force, the noise of strain and the line's own
 * uncertainty, the last two turned into stress by how steeply the curve still rises there.
 */
export function proofUncertaintyMPa(
  curve: TensileCurve,
  line: ElasticLine,
  found: ProofStrength,
  plasticStrain: number,
  noise: { readonly stressMPa: number; readonly strain: number },
): number {
  const below = proofStrength(curve, line, 0.75 * plasticStrain)?.stressMPa ?? found.stressMPa;
  const above = proofStrength(curve, line, 1.25 * plasticStrain)?.stressMPa ?? found.stressMPa;
  const riseMPa = Math.max(0, above - below) / (0.5 * plasticStrain);
  const ofSamples = Math.hypot(noise.stressMPa, riseMPa * noise.strain) / Math.sqrt(found.samples);
  return Math.hypot(ofSamples, riseMPa * strainUncertainty(line, found.stressMPa));
}

/** Stress at a total extension (0.005 for Rt0.5), counted from where the elastic line meets zero stress. */
export function totalExtensionStrength(
  curve: TensileCurve,
  line: { readonly zeroStrain: number; readonly first: number },
  totalStrain: number,
): ProofStrength | undefined {
  return crossing(curve, line.first, (i) => curve.strain[i]! - line.zeroStrain - totalStrain);
}

/**
 * Where `beyond` goes from below zero to above for good. Plastic strain only grows, so noise is the only reason for it to come
 * back: between the first sample beyond and the last one short of it the crossing is a fitted one, else plainly interpolated.
 */
function crossing(curve: TensileCurve, from: number, beyond: (index: number) => number): ProofStrength | undefined {
  const { strain, stressMPa } = curve;
  let firstBeyond = from;
  while (firstBeyond < strain.length && beyond(firstBeyond) < 0) firstBeyond++;
  if (firstBeyond >= strain.length || firstBeyond === from) return undefined;

  let lastShort = firstBeyond - 1;
  for (let i = firstBeyond; i < strain.length; i++) if (beyond(i) < 0) lastShort = i;

  const before = firstBeyond - 1;
  const after = Math.min(Math.max(lastShort + 1, firstBeyond), strain.length - 1);
  const stepMPa = Math.abs(stressMPa[firstBeyond]! - stressMPa[before]!);
  if (after === firstBeyond) return { ...interpolate(curve, before, beyond), stepMPa, samples: 2 };
  return { ...averageCrossing(curve, before, after, beyond), stepMPa };
}

function interpolate(curve: TensileCurve, before: number, beyond: (index: number) => number) {
  const short = beyond(before);
  const past = beyond(before + 1);
  const share = past === short ? 0 : -short / (past - short);
  return { stressMPa: between(curve.stressMPa, before, share), strain: between(curve.strain, before, share) };
}

function between(values: Float64Array, index: number, share: number): number {
  return values[index]! + share * (values[index + 1]! - values[index]!);
}

/** Stress and strain against the distance from the line, over a stretch as wide again as the unsettled one on either side. */
function averageCrossing(curve: TensileCurve, before: number, after: number, beyond: (index: number) => number) {
  const margin = after - before;
  const from = Math.max(0, before - margin);
  const to = Math.min(curve.strain.length, after + margin + 1);
  const distance = Float64Array.from({ length: to - from }, (_, i) => beyond(from + i));
  const order = Float64Array.from({ length: to - from }, (_, i) => i);
  // Position in the record is the noise-free axis: fit distance, stress and strain against it and read where distance is zero.
  const along = fitLine(order, distance)!;
  const at = along.slope > 0 ? -along.intercept / along.slope : margin;
  const stress = fitLine(order, curve.stressMPa.subarray(from, to))!;
  const strain = fitLine(order, curve.strain.subarray(from, to))!;
  return {
    stressMPa: stress.intercept + stress.slope * at,
    strain: strain.intercept + strain.slope * at,
    samples: to - from,
  };
}
