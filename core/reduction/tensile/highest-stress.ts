import { indexOfHighest } from "./curve.js";

export interface HighestStress {
  readonly stressMPa: number;
  readonly index: number;
  /** Samples averaged around each value before the highest was taken: 1 for a quiet record. */
  readonly averagedOver: number;
}

/** The highest of many noisy samples lies about this many standard deviations above the true value. */
export const PEAK_OF_NOISE = 3.5;
/** A gap between stresses this close to the highest may have the true highest in it. */
const NEAR_HIGHEST_SHARE = 0.9;

/** Whether the highest stress may have been reached between two samples that are not next to each other. */
export function mayHideHighest(beforeMPa: number, afterMPa: number, highestMPa: number): boolean {
  return Math.min(beforeMPa, afterMPa) > NEAR_HIGHEST_SHARE * highestMPa;
}

/** Noise that shifts the maximum by less than this is left alone: Rm is the highest force recorded, as long as that is the metal's. */
const HARMLESS_SHARE = 0.0025;

/**
 * Rm: the highest force divided by the original section (ISO 6892-1:2019, 3.9 and 3.10.1).
 *
 * In a noisy record the highest sample is one that noise pushed up, so samples are averaged first, over no more of the record
 * than `flattestSamples`, within which a maximum is flat. Where equal values share the top, the middle of them is taken (clause 17).
 */
export function findHighestStress(
  stressMPa: Float64Array,
  noiseMPa: number,
  flattestSamples: number,
  from = 0,
): HighestStress {
  const first = indexOfHighest(stressMPa, from);
  const wanted = Math.ceil(((PEAK_OF_NOISE * noiseMPa) / (HARMLESS_SHARE * stressMPa[first]!)) ** 2);
  const half = wanted <= 1 ? 0 : Math.floor(Math.min(wanted, Math.max(1, flattestSamples)) / 2);
  if (half === 0) {
    return { stressMPa: stressMPa[first]!, index: middleOfEqual(stressMPa, first), averagedOver: 1 };
  }
  return { ...highestAverage(stressMPa, half, from), averagedOver: 2 * half + 1 };
}

function middleOfEqual(values: Float64Array, first: number): number {
  let last = first;
  while (last + 1 < values.length && values[last + 1] === values[first]) last++;
  return (first + last) >> 1;
}

function highestAverage(values: Float64Array, half: number, from: number): { stressMPa: number; index: number } {
  const width = 2 * half + 1;
  let sum = 0;
  let best = { stressMPa: Number.NEGATIVE_INFINITY, index: from };
  for (let i = from; i < values.length; i++) {
    sum += values[i]!;
    if (i >= from + width) sum -= values[i - width]!;
    if (i >= from + width - 1 && sum / width > best.stressMPa) best = { stressMPa: sum / width, index: i - half };
  }
  if (best.stressMPa > Number.NEGATIVE_INFINITY) return best;
  const index = indexOfHighest(values, from);
  return { stressMPa: values[index]!, index };
}
