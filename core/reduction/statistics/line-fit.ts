/** A straight line by ordinary least squares, with what is needed to judge how far to trust it. */
export interface LineFit {
  readonly slope: number;
  readonly intercept: number;
  readonly slopeStandardError: number;
  readonly interceptStandardError: number;
  readonly residualStandardDeviation: number;
  readonly rSquared: number;
  readonly points: number;
}

/**
 * Least-squares line through points `from` up to but not including `to`; undefined for fewer than three points or no spread in x.
 *
 * Both axes are centred on their means before anything is multiplied. Without that, a record whose x starts far from zero
 * loses its slope to cancellation.
 */
export function fitLine(
  x: ArrayLike<number>,
  y: ArrayLike<number>,
  from = 0,
  to: number = Math.min(x.length, y.length),
): LineFit | undefined {
  const points = to - from;
  if (points < 3) return undefined;
  const meanX = mean(x, from, to);
  const meanY = mean(y, from, to);

  let sumXX = 0;
  let sumXY = 0;
  let sumYY = 0;
  for (let i = from; i < to; i++) {
    const dx = x[i]! - meanX;
    const dy = y[i]! - meanY;
    sumXX += dx * dx;
    sumXY += dx * dy;
    sumYY += dy * dy;
  }
  if (!(sumXX > 0)) return undefined;

  const slope = sumXY / sumXX;
  // Residuals are summed directly: sumYY - slope * sumXY loses all digits on a nearly perfect line.
  let residualSquares = 0;
  for (let i = from; i < to; i++) residualSquares += (y[i]! - meanY - slope * (x[i]! - meanX)) ** 2;
  const variance = residualSquares / (points - 2);

  return {
    slope,
    intercept: meanY - slope * meanX,
    slopeStandardError: Math.sqrt(variance / sumXX),
    interceptStandardError: Math.sqrt(variance * (1 / points + (meanX * meanX) / sumXX)),
    residualStandardDeviation: Math.sqrt(variance),
    rSquared: sumYY > 0 ? 1 - residualSquares / sumYY : 1,
    points,
  };
}

function mean(values: ArrayLike<number>, from: number, to: number): number {
  let sum = 0;
  for (let i = from; i < to; i++) sum += values[i]!;
  return sum / (to - from);
}
