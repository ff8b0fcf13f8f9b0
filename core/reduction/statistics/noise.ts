import { median } from "./median.js";

/** Enough second differences for a stable median; more would only cost time on long records. */
const MOST_SAMPLES = 20_000;

/**
 * Standard deviation of the sample-to-sample noise of a smooth signal, from its second differences.
 *
 * A second difference of independent noise has variance 6 σ², and a smooth curve contributes almost nothing to it; the median
 * keeps yield drops and breaks out (0.6745 is the quartile of the normal distribution).
 */
export function estimateNoise(values: ArrayLike<number>): number {
  const count = values.length - 2;
  if (count < 8) return 0;
  const stride = Math.max(1, Math.floor(count / MOST_SAMPLES));
  const differences = new Float64Array(Math.floor((count - 1) / stride) + 1);
  for (let i = 0; i < differences.length; i++) {
    const at = i * stride;
    differences[i] = Math.abs(values[at]! - 2 * values[at + 1]! + values[at + 2]!);
  }
  return median(differences) / (0.6745 * Math.sqrt(6));
}
