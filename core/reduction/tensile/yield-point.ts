import { elasticStrain, indexOfHighest, type TensileCurve } from "./curve.js";
import type { ElasticLine } from "./elastic-line.js";

/** Discontinuous yielding: a drop in force before the material hardens. */
export interface YieldPoint {
  /** ReH: highest stress before the first decrease in force (ISO 6892-1:2019, 3.10.2.1 and clause 11). */
  readonly upperMPa: number;
  readonly upperIndex: number;
  /** ReL: lowest stress while yielding, the first swing after the drop left out (3.10.2.2 and clause 12). */
  readonly lowerMPa?: number;
  readonly lowerIndex?: number;
  /** Where the stress is highest after yielding: the end of what counts as work hardening. */
  readonly hardenedIndex: number;
}

/** A decrease below this share of the peak is taken for the control of the machine, not for yielding. */
const SMALLEST_DROP = 0.005;
/** An upper yield point lies close to the elastic line; later peaks are serrations or necking. */
const MOST_PLASTIC_STRAIN = 0.005;
/** The drop follows the peak within this much strain. */
const DROP_WITHIN_STRAIN = 0.01;
/** A swing is over when the stress has stopped rising for this much strain. */
const SETTLED_STRAIN = 0.0005;
/** Yielding goes on at about one level for at least this much strain before the piece may break. */
const SHORTEST_PLATEAU_STRAIN = 0.005;

export function findYieldPoint(curve: TensileCurve, line: ElasticLine, noiseMPa: number): YieldPoint | undefined {
  const { stressMPa, strain } = curve;
  const upperIndex = firstPeak(curve, line, noiseMPa);
  if (upperIndex === undefined) return undefined;

  const lowestIndex = lowestSoonAfter(curve, upperIndex, noiseMPa);
  const rise = Math.max(0.0005 * stressMPa[upperIndex]!, 4 * noiseMPa);
  const settledIndex = endOfSwing(curve, lowestIndex, rise);
  const hardenedIndex = indexOfHighest(stressMPa, settledIndex);
  // Without a plateau or hardening after it, the peak is simply where a hard material starts to neck.
  const upperMPa = stressMPa[upperIndex]!;
  const hardens =
    stressMPa[hardenedIndex]! > stressMPa[lowestIndex]! + Math.max(SMALLEST_DROP * upperMPa, 4 * noiseMPa);
  const plateau = strain[hardenedIndex]! - strain[upperIndex]! > SHORTEST_PLATEAU_STRAIN;
  if (!hardens && !plateau) return undefined;

  const lowerIndex = indexOfLowest(stressMPa, settledIndex, hardenedIndex + 1);
  return { upperMPa, upperIndex, lowerMPa: stressMPa[lowerIndex]!, lowerIndex, hardenedIndex };
}

/** The highest sample so far, once the stress has fallen from it by more than the smallest drop. */
function firstPeak(curve: TensileCurve, line: ElasticLine, noiseMPa: number): number | undefined {
  const { stressMPa, strain } = curve;
  let peak = line.end;
  for (let i = line.end; i < stressMPa.length; i++) {
    if (stressMPa[i]! >= stressMPa[peak]!) {
      peak = i;
      continue;
    }
    const plastic = strain[peak]! - elasticStrain(line, stressMPa[peak]!);
    if (plastic > MOST_PLASTIC_STRAIN) return undefined;
    if (strain[i]! - strain[peak]! > DROP_WITHIN_STRAIN) return undefined;
    const drop = stressMPa[peak]! - stressMPa[i]!;
    if (drop > Math.max(SMALLEST_DROP * stressMPa[peak]!, 6 * noiseMPa)) {
      // An unloading loop runs back down the elastic line; yielding goes on to larger strain while the force falls.
      if (strain[i]! - strain[peak]! < (-0.5 * drop) / line.slopeMPa) return undefined;
      return peak;
    }
  }
  return undefined;
}

/** The bottom of the first drop: the lowest sample before the stress has risen again by a tenth of the drop, and by more than noise. */
function lowestSoonAfter(curve: TensileCurve, peak: number, noiseMPa: number): number {
  const { stressMPa, strain } = curve;
  let lowest = peak;
  for (let i = peak + 1; i < stressMPa.length; i++) {
    if (strain[i]! - strain[peak]! > DROP_WITHIN_STRAIN) break;
    if (stressMPa[i]! < stressMPa[lowest]!) lowest = i;
    const drop = stressMPa[peak]! - stressMPa[lowest]!;
    if (
      drop > SMALLEST_DROP * stressMPa[peak]! &&
      stressMPa[i]! - stressMPa[lowest]! > Math.max(0.1 * drop, 6 * noiseMPa)
    )
      break;
  }
  return lowest;
}

/** Where the stress, rising again from the bottom, first reaches the level at which it then stays. */
function endOfSwing(curve: TensileCurve, lowest: number, rise: number): number {
  const { stressMPa, strain } = curve;
  let step = lowest;
  let end = lowest + 1;
  for (; end < stressMPa.length; end++) {
    if (stressMPa[end]! > stressMPa[step]! + rise) step = end;
    else if (strain[end]! - strain[step]! > SETTLED_STRAIN) break;
  }
  return indexOfHighest(stressMPa, lowest, end);
}

function indexOfLowest(values: Float64Array, from: number, to: number): number {
  let best = from;
  for (let i = from + 1; i < to; i++) if (values[i]! < values[best]!) best = i;
  return best;
}
