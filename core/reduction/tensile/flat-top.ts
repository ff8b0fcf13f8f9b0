import { PEAK_OF_NOISE } from "./highest-stress.js";

const SEGMENTS = 10;
const FEWEST_SAMPLES = 100;

/**
 * Whether noisy samples at the top stand about one level from the first to the last of them, with a corner at either end. A real
 * maximum is round: within a band of this height it falls off to both sides by more than the noise.
 */
export function isCutFlat(stressMPa: Float64Array, highestMPa: number, noiseMPa: number): boolean {
  if (!(noiseMPa > 0)) return false;
  // The lowest of the samples lies as far below the level as the highest above it.
  const lowest = highestMPa - 2 * PEAK_OF_NOISE * noiseMPa;
  let first = 0;
  while (first < stressMPa.length && stressMPa[first]! < lowest) first++;
  let end = stressMPa.length;
  while (end > first && stressMPa[end - 1]! < lowest) end--;
  if (end - first < FEWEST_SAMPLES || end === stressMPa.length) return false;

  const length = Math.floor((end - first) / SEGMENTS);
  const means = Array.from({ length: SEGMENTS }, (_, i) =>
    meanOf(stressMPa, first + i * length, first + (i + 1) * length),
  );
  const spread = Math.max(...means) - Math.min(...means);
  return spread < (6 * noiseMPa) / Math.sqrt(length);
}

function meanOf(values: Float64Array, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += values[i]!;
  return sum / (to - from);
}
