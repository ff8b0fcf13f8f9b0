/** The middle value; the mean of the two middle ones for an even count; NaN for none. The input is left as it is. */
export function median(values: ArrayLike<number>): number {
  if (values.length === 0) return Number.NaN;
  const sorted = Float64Array.from(values).sort();
  const middle = sorted.length >> 1;
  return sorted.length % 2 === 1 ? sorted[middle]! : (sorted[middle - 1]! + sorted[middle]!) / 2;
}
